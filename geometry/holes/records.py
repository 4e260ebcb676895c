"""The best known layouts of points in a square, by their distances.

From E. Specht's public list of equal circles in a square (radii r of 30 digits; the distance in
the unit square is 2 r / (1 - 2 r)). Proved optimal for 2 to 30 points and for 36: Szabo, Markot,
Csendes, Specht, Casado, Garcia, New Approaches to Circle Packing in a Square, Springer 2007, and
what they cite. The list has the distances only, so it says what is possible, not where.
"""

from fractions import Fraction
from typing import Final

_MOST_PROVED: Final = frozenset({*range(2, 31), 36})

# fmt: off
_DISTANCES: Final = tuple(map(Fraction, (
    "1.414213562374", "1.035276180411", "1.000000000000", "0.707106781187", "0.600925212578",
    "0.535898384863", "0.517638090206", "0.500000000000", "0.421279543984", "0.398207310237",
    "0.388730126324", "0.366096007697", "0.348915260375", "0.341081377403", "0.333333333334",
    "0.306153985301", "0.300462606289", "0.289541991995", "0.286611652352", "0.271812255360",
    "0.267958401551", "0.258819045103", "0.254333095031", "0.250000000000", "0.238734757242",
    "0.235849528302", "0.230535493643", "0.226882900745", "0.224502964532", "0.217547291620",
    "0.213174562590", "0.211328384144", "0.205604646760", "0.202763600864", "0.200000000000",
    "0.196429184630", "0.195342304127", "0.194365063162", "0.188175522019", "0.186099511849",
    "0.184277072118", "0.180191135458", "0.178639245672", "0.175716314176", "0.174459360873",
    "0.171270563823", "0.169405429371", "0.167386076869", "0.166526577344", "0.165618374313",
    "0.165386237970", "0.162648077425", "0.159139516308", "0.157555747530", "0.156156500463",
    "0.154747406944", "0.152692531392", "0.151562950614", "0.149505654049", "0.148544126696",
    "0.147452679810", "0.146819313689", "0.145367754452", "0.144699014781", "0.143804230808",
    "0.143085575883", "0.142909593913", "0.139948181881", "0.137906776652", "0.136612997249",
    "0.135849927910", "0.134728725877", "0.133998672691", "0.132488813743", "0.131730037633",
    "0.130844544211", "0.130460772896", "0.129965202741", "0.129613385495", "0.128336855974",
    "0.127426911812", "0.126454353161", "0.125762702260", "0.125315548584", "0.125044156495",
    "0.122826583177", "0.122099298195", "0.120943129628", "0.120448049480", "0.119812602207",
    "0.119362266625", "0.118384170618", "0.118056384766", "0.117119642120", "0.116757999100",
    "0.116357483969", "0.116153614607", "0.116018134844", "0.114581352162",
)))
# fmt: on
"""The largest least distance of 2, 3, … 100 points in a unit square, rounded up at 1e-12."""


def best_known_in_square(side: Fraction, spacing: Fraction) -> int | None:
    """Return how many points the best known layout holds in a closed square.

    None where the list ends: a hundred points fit, and perhaps more. Off by 1e-12 of the side at
    most, far within the tolerance.
    """
    if side * _DISTANCES[-1] >= spacing:
        return None
    held = [n for n, most in enumerate(_DISTANCES, start=2) if side * most >= spacing]
    return max(held, default=1)


def most_proved_in_square(side: Fraction, spacing: Fraction) -> int | None:
    """Return a number of points that provably no layout exceeds in a closed square, if known."""
    kept = [n - 1 for n in _MOST_PROVED if side * _DISTANCES[n - 2] < spacing]
    return min(kept, default=None)
