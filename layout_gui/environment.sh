# Sourced by layout_gui/run and tests/run: makes .venv beside the project once, and again when
# pyproject.toml changes. Needs $root (the project folder) and $extra ("" or "test").

stamp="$root/.venv/ready"
want=$(cksum < "$root/pyproject.toml")

say() { printf '%s\n' "raftwright: $*" >&2; }

# As root on Debian, install the packages; otherwise print the one line to type and stop.
need() {
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "installing $*"
        { apt-get update -qq && apt-get install -y -qq --no-install-recommends "$@"; } >&2 && return 0
    fi
    say "something is missing. Please type:"
    say "    sudo apt-get install $*"
    exit 1
}

# The tests of real windows need a screen nobody sees; without one they are left out and say so.
screen() {
    command -v Xvfb >/dev/null 2>&1 && command -v openbox >/dev/null 2>&1 \
        && command -v xdotool >/dev/null 2>&1 && return 0
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "installing xvfb openbox xdotool, for the tests of real windows"
        { apt-get update -qq && apt-get install -y -qq --no-install-recommends \
            xvfb openbox xdotool; } >&2 && return 0
    fi
    say "the tests of real windows are left out; to run them: sudo apt-get install xvfb openbox xdotool"
}

# The tests of paper also measure what a second renderer and the filter of a print queue make of it.
paper() {
    command -v pdftoppm >/dev/null 2>&1 && [ -x /usr/lib/cups/filter/pdftopdf ] && return 0
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "installing poppler-utils cups-filters-core-drivers, for the tests of paper"
        { apt-get update -qq && apt-get install -y -qq --no-install-recommends \
            poppler-utils cups-filters-core-drivers; } >&2 && return 0
    fi
    say "some tests of paper are left out; to run them:"
    say "    sudo apt-get install poppler-utils cups-filters-core-drivers"
}

find_python() {
    for name in python3 python3.14 python3.13 python3.12 python3.11; do
        if "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            python=$name
            return 0
        fi
    done
    return 1
}

make_environment() {
    find_python || { say "Python 3.11 or newer is needed; none was found."; exit 1; }
    "$python" -c 'import venv, ensurepip' 2>/dev/null || need python3-venv
    say "setting up, this once (a few minutes on a slow line) ..."
    rm -f "$stamp"
    "$python" -m venv "$root/.venv"
    "$root/.venv/bin/python" -m pip install --quiet --disable-pip-version-check \
        --editable "$root${extra:+[$extra]}" >&2 || {
        say "the set-up did not finish; is there a network? Run the same command again."
        exit 1
    }
    if [ "$(uname)" = Linux ]; then
        missing=$("$root/.venv/bin/python" - <<'PY'
import ctypes

PACKAGES = {
    "libGL.so.1": "libgl1", "libEGL.so.1": "libegl1", "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3", "libfontconfig.so.1": "libfontconfig1",
    "libglib-2.0.so.0": "libglib2.0-0", "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4", "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0", "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
for library, package in PACKAGES.items():
    try:
        ctypes.CDLL(library)
    except OSError:
        print(package)
PY
)
        # shellcheck disable=SC2086  # a list of package names
        [ -z "$missing" ] || need $missing
    fi
    if [ "$extra" = test ]; then
        screen
        paper
    fi
    printf '%s\n%s\n' "$want" "$extra" > "$stamp"
}

have="" had=""
[ ! -r "$stamp" ] || { read -r have; read -r had; } < "$stamp" || :
if [ "$have" != "$want" ] || { [ -n "$extra" ] && [ "$had" != "$extra" ]; }; then
    [ -n "$extra" ] || extra=$had
    make_environment
fi
