#!/bin/sh
# Make .venv ready to run Beltwright ("runtime"), with its pages in the browser ("web"), or to test it as well ("dev").
# Called by make; safe to call again.
# What the system lacks is installed by apt when run as root; otherwise one line names the command, and exit is 2.
set -eu
cd "$(dirname "$0")/.."
what=${1:?runtime, web or dev}
unset PYTHONPATH PYTHONHOME
PATH=$PATH:/usr/local/sbin:/usr/sbin:/sbin # where apt finds what it calls, also from a bare environment
export PATH

new_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; }
makes_venv() { "$1" -c 'import ensurepip, venv' >/dev/null 2>&1; }
loads() { "$python" -c "import ctypes; ctypes.CDLL('$1')" >/dev/null 2>&1; }

# The first Python that is new enough and can make a .venv; failing that, the first that is new enough; or nothing.
find_python() {
    found=
    for name in python3.13 python3.12 python3.11 python3; do
        new_enough "$name" || continue
        if makes_venv "$name"; then echo "$name"; return; fi
        found=${found:-$name}
    done
    echo "$found"
}

a_browser() { command -v chromium >/dev/null || command -v chromium-browser >/dev/null || command -v google-chrome >/dev/null; }

# The Debian packages that are missing, found by trying what is needed of each. (libGL, libX11: STEP and IGES.)
missing_packages() {
    python=$(find_python)
    if [ -z "$python" ]; then
        echo python3 python3-venv libgl1 libx11-6
    else
        makes_venv "$python" || if new_enough python3; then echo python3-venv; else echo "$python-venv"; fi
        loads libGL.so.1 || echo libgl1
        loads libX11.so.6 || echo libx11-6
    fi
    [ "$what" != dev ] || command -v pdftotext >/dev/null || echo poppler-utils
    [ "$what" != dev ] || a_browser || echo chromium
}

apt() { DEBIAN_FRONTEND=noninteractive apt-get -qq -o Dpkg::Use-Pty=0 "$@" >"$log" 2>&1; }

install_packages() {
    command="apt-get update && apt-get install -y --no-install-recommends $*"
    if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
        echo "Beltwright needs these system packages; as root run: $command" >&2
        exit 2
    fi
    echo "installing system packages: $*"
    log=$(mktemp)
    apt install -y --no-install-recommends "$@" || { apt update && apt install -y --no-install-recommends "$@"; } || {
        cat "$log" >&2
        echo "apt could not install them; as root run: $command" >&2
        exit 2
    }
    rm -f "$log"
}

for _ in first second; do # a Python just installed could not be tried before
    missing=$(missing_packages)
    # shellcheck disable=SC2086
    [ -z "$missing" ] || install_packages $missing
done

python=$(find_python)
if [ -z "$python" ] || ! makes_venv "$python"; then
    echo "Beltwright needs Python 3.11 or newer with its venv module; none was found on PATH" >&2
    exit 2
fi

if ! new_enough .venv/bin/python || ! .venv/bin/python -m pip --version >/dev/null 2>&1; then
    "$python" -m venv --clear .venv
fi
rm -f .venv/.runtime .venv/.web .venv/.dev
pip() { .venv/bin/python -m pip install --quiet --no-input --disable-pip-version-check --no-deps "$@"; }
echo "installing $(grep -c == "requirements/$what.txt") Python packages into .venv ($what)"
pip --require-hashes --only-binary :all: -r "requirements/$what.txt"
pip --no-build-isolation --editable .
touch .venv/.runtime
[ "$what" = runtime ] || touch .venv/.web
[ "$what" != dev ] || touch .venv/.dev
