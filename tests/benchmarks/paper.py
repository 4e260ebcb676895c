"""How fast template pages come out, and what they take of memory, against bare reportlab.

The floor draws the same circles, lines and texts by plain calls of a canvas, from values that are
there already: it lays nothing out. Run: python tests/benchmarks/paper.py
"""

import io
import resource
import sys
import time
import tracemalloc
from collections.abc import Callable, Iterator
from math import degrees
from pathlib import Path as File

sys.path.insert(0, str(File(__file__).parents[2]))

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from geometry.drawing.marks import Circle, Mark, Path, Text
from geometry.drawing.paper import Page
from geometry.drawing.styles import PENS
from geometry.drawing.template import lay_template
from geometry.drawing.text_width import text_width
from geometry.holes.names import row_letters
from geometry.model.curves import Arc, Line
from geometry.plan import PlacedRaft, Plan
from layout_gui.output.fonts import FILES, font_name
from layout_gui.output.pdf import PT, render_pdf
from tests.builders import make_bed_plan, make_design, make_holes, make_plan, make_shape

ROUNDS = 3


def raft(columns: int, rows: int, pitch: float, diameter: float) -> Plan:
    """One raft whose template takes about the pages wanted."""
    length, width = columns * pitch, rows * pitch
    places = [(column, row) for row in range(rows) for column in range(columns)]
    holes = make_holes(
        [(pitch * (column + 0.5), pitch * (row + 0.5)) for column, row in places],
        diameter=diameter,
        names=[f"{row_letters(row)}{column + 1}" for column, row in places],
    )
    design = make_design("nursery-1", make_shape(length, width), holes)
    return make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))


def write(plan: Plan) -> int:
    """Lay out, draw and render a template; return its pages."""
    template = lay_template(plan)
    render_pdf(template.pages(), title="t")
    return template.total


def draw_bare(pages: list[Page]) -> None:
    """Draw the same marks with reportlab alone."""
    canvas = Canvas(io.BytesIO(), invariant=1, pageCompression=1, initialFontName="DejaVuSans")
    for page in pages:
        canvas.setPageSize((page.width_mm * PT, page.height_mm * PT))
        for picture in page.pictures:
            canvas.saveState()
            if picture.clip is not None:
                window = canvas.beginPath()
                left, bottom, right, top = (side * PT for side in picture.clip)
                window.rect(left, bottom, right - left, top - bottom)
                canvas.clipPath(window, stroke=0, fill=0)
            style = None
            for mark in (mark for group in picture.drawing.groups for mark in group.marks):
                if mark.style is not style:
                    style = mark.style
                    pen = PENS[style]
                    canvas.setLineWidth(pen.width_mm * PT)
                    canvas.setDash([dash * PT for dash in pen.dash_mm])
                    canvas.setStrokeGray(pen.grey)
                    canvas.setFillGray(pen.grey)
                draw_mark(canvas, mark)
            canvas.restoreState()
        canvas.showPage()
    canvas.save()


def draw_mark(canvas: Canvas, mark: Mark) -> None:
    """Draw a mark by the plainest call there is."""
    pen = PENS[mark.style]
    match mark:
        case Circle((x, y), radius):
            canvas.circle(x * PT, y * PT, radius * PT, fill=pen.filled, stroke=not pen.filled)
        case Path((Line(start, end),)):
            canvas.line(start.x * PT, start.y * PT, end.x * PT, end.y * PT)
        case Path(curves, _, closed):
            path = canvas.beginPath()
            for number, curve in enumerate(curves):
                match curve:
                    case Line(start, end):
                        if not number:
                            path.moveTo(start.x * PT, start.y * PT)
                        path.lineTo(end.x * PT, end.y * PT)
                    case Arc(centre, radius, angle, sweep):
                        low, high = centre.x - radius, centre.y - radius
                        path.arcTo(
                            low * PT,
                            high * PT,
                            (low + 2 * radius) * PT,
                            (high + 2 * radius) * PT,
                            degrees(angle),
                            degrees(sweep),
                        )
            if closed:
                path.close()
            canvas.drawPath(path, fill=pen.filled, stroke=not pen.filled)
        case Text((x, y), text, height, _, anchor, angle):
            canvas.setFont(font_name(bold=pen.bold), height * PT)
            if angle:
                canvas.saveState()
                canvas.translate(x * PT, y * PT)
                canvas.rotate(angle)
                canvas.drawString(0, 0, text)
                canvas.restoreState()
            elif anchor == "middle":
                canvas.drawCentredString(x * PT, y * PT, text)
            elif anchor == "right":
                canvas.drawRightString(x * PT, y * PT, text)
            else:
                canvas.drawString(x * PT, y * PT, text)


def best(work: Callable[[], object]) -> float:
    """Return the least processor time of some rounds, in seconds."""
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def count_marks(pages: list[Page]) -> Iterator[Mark]:
    """All marks of all pages."""
    for page in pages:
        for picture in page.pictures:
            for group in picture.drawing.groups:
                yield from group.marks


def speed(name: str, plan: Plan) -> None:
    """Compare one raft's template with the floor."""
    pages = list(lay_template(plan).pages())
    text_width("warm", 1)
    ours = best(lambda: write(plan))
    laid = best(lambda: lay_template(plan))
    drawn = best(lambda: list(lay_template(plan).pages())) - laid
    floor = best(lambda: draw_bare(pages))
    marks = sum(1 for _ in count_marks(pages))
    holes = sum(len(design.holes) for bed in plan.beds for design in bed.designs)
    print(
        f"{name:22} {len(pages):4} pages {holes:6} holes {marks:6} marks: {ours * 1000:6.0f} ms"
        f" (laid out {laid * 1000:.0f}, drawn {drawn * 1000:.0f},"
        f" rendered {(ours - laid - drawn) * 1000:.0f}), floor {floor * 1000:.0f} ms,"
        f" {ours / floor:.2f} times"
    )


def memory(plan: Plan) -> tuple[int, float]:
    """Return the pages of a template, and the peak of memory taken by writing them, in MiB."""
    template = lay_template(plan)
    tracemalloc.start()
    render_pdf(template.pages(), title="t")
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    print(f"{'writing':22} {template.total:4} pages: peak {peak / 2**20:.2f} MiB")
    return template.total, peak / 2**20


if __name__ == "__main__":
    for font, file in FILES.items():
        pdfmetrics.registerFont(TTFont(font, str(file)))
    speed("60 holes a page", raft(60, 88, 28, 20))
    speed("16 holes a page", raft(30, 46, 54, 40))
    speed("2 holes a page", raft(12, 17, 140, 50))
    many = raft(200, 100, 28, 20)
    write(raft(60, 88, 28, 20))
    few_pages, few_peak = memory(raft(60, 88, 28, 20))
    many_pages, many_peak = memory(many)
    each = (many_peak - few_peak) * 1024 / (many_pages - few_pages)
    print(f"{'each page more':22} {each:.1f} KiB")
    speed("20,000 holes", many)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak of the process: {most:.0f} MiB")
