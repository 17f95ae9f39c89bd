# Beltwright. `make design` sets up and runs the main job; `make test` sets up and passes every test.
# Everything lands in .venv, build and the results folder of the ship; `make clean` takes the first two away.

.DEFAULT_GOAL := help
.SUFFIXES:
.DELETE_ON_ERROR:
MAKEFLAGS += --no-builtin-rules --no-print-directory
unexport PYTHONPATH PYTHONHOME

SHIP ?= examples/quillan-frostmark
PY := .venv/bin/python
WORKERS ?= 2

# A moved folder, a renewed system Python or a half-made .venv is set up again, whatever the stamps say.
SOUND := $(shell $(PY) tools/setup_is_sound.py 2>/dev/null || echo set-up-again)

.PHONY: help design pages test check fast docs generate bench mutants lock clean $(SOUND)

help: ## what can be made
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/make \1\t\2/p' Makefile | expand -t 16

.venv/.runtime: requirements/runtime.txt pyproject.toml tools/setup.sh $(SOUND)
	@sh tools/setup.sh runtime

.venv/.web: requirements/web.txt requirements/runtime.txt pyproject.toml tools/setup.sh $(SOUND)
	@sh tools/setup.sh web

.venv/.dev: requirements/dev.txt requirements/web.txt requirements/runtime.txt pyproject.toml tools/setup.sh $(SOUND)
	@sh tools/setup.sh dev

design: .venv/.runtime ## set up, then run the main job on the demo ship (SHIP=folder for another)
	@.venv/bin/beltwright design $(SHIP)

pages: .venv/.web ## set up with the pages in the browser, then show the demo ship in them (SHIP=folder for another)
	@.venv/bin/beltwright serve $(SHIP)

test: .venv/.dev ## set up, then lint, types, import rules, docs, every test and the coverage gates; what CI runs
	@$(MAKE) check
	@$(MAKE) docs
	@mkdir -p build/coverage && rm -f build/coverage/data*
	$(PY) -m pytest -n $(WORKERS) --dist loadfile --cov --cov-report=
	$(PY) -m coverage report --include='*/rules/*,*/core/*' --fail-under=100

check: .venv/.dev ## format, lint with docstrings, strict types, import rules, generated pages up to date
	$(PY) -m ruff format --check --quiet .
	$(PY) -m ruff check --quiet .
	$(PY) -m mypy
	.venv/bin/lint-imports --no-cache --no-logo
	$(PY) tools/gen_docs.py --check

fast: .venv/.dev ## the tests that take less than two minutes in all
	$(PY) -m pytest -n $(WORKERS) --dist loadfile -m "not slow"

docs: .venv/.dev ## the documentation as a folder of pages, build/site; fails on a broken link
	NO_MKDOCS_2_WARNING=1 $(PY) -m mkdocs build --strict --quiet --site-dir build/site

generate: .venv/.dev ## write the generated pages of the documentation anew
	$(PY) tools/gen_docs.py

bench: .venv/.dev ## time what has a budget, beside a plainer way of doing the same
	@for script in bench/[a-z]*.py; do $(PY) $$script || exit 1; done

mutants: .venv/.dev ## change the rules one token at a time and see that a test notices (long)
	$(PY) tools/mutants.py

lock: .venv/.dev ## resolve the dependencies anew into the hashed locks
	sh tools/lock.sh

clean: ## take away .venv, build and caches
	rm -rf .venv build .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
	find . -name __pycache__ -type d -prune -exec rm -rf {} +
