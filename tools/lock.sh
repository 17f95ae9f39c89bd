#!/bin/sh
# Write the hashed locks anew: requirements/runtime.txt, web.txt (with the pages) and dev.txt, which agree.
# Runs with an empty environment, so that no local mirror, link folder or cache setting can get into a lock.
# One version of each package for every supported Python, so that the numbers do not depend on it; wheels only, since a
# bare machine has no compiler. Use: make lock
set -eu
cd "$(dirname "$0")/.."
uv="$PWD/.venv/bin/uv"
home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT

compile() {
    env -i HOME="$home" PATH="$PATH" "$uv" pip compile --quiet --system-certs --universal --python-version 3.11 \
        --fork-strategy fewest --only-binary :all: -c requirements/held-back.txt \
        --generate-hashes --no-emit-index-url --no-header --no-annotate "$@"
}

upgrade=${1:-} # "--upgrade" moves every pin to the newest version that fits; without it old pins stay
compile $upgrade pyproject.toml requirements/build.in -o requirements/runtime.txt
compile $upgrade pyproject.toml requirements/build.in --extra web -c requirements/runtime.txt -o requirements/web.txt
compile $upgrade pyproject.toml requirements/build.in --extra web --group dev -c requirements/web.txt -c requirements/runtime.txt -o requirements/dev.txt
