# The only list of commands. Every target sets up what it needs, so any of them can be the first one after a clone.
# Paths stay relative and the tools are run as modules: the scripts inside .venv carry absolute paths, which break
# when the checkout is moved or has a space in its path.

PY := .venv/bin/python
PIP_INSTALL := $(PY) -m pip --disable-pip-version-check install --quiet --quiet
INSTALL_LOCK := $(PIP_INSTALL) --require-hashes --only-binary :all: --requirement
INSTALL_PROJECT := $(PIP_INSTALL) --no-build-isolation --no-deps --editable .
PYTHON ?=
PYTHONS := $(if $(PYTHON),"$(PYTHON)",python3 python3.13 python3.12 python3.11)
ARGS ?=

.DEFAULT_GOAL := help
.NOTPARALLEL:
.PHONY: help demo test check docs bench lock clean

help: ## print this list
	@sed -n 's/^\([a-z]*\):.*## \(.*\)/  make \1|\2/p' Makefile | awk -F'|' '{ printf "%-14s %s\n", $$1, $$2 }'

demo: .venv/run.stamp ## from invented readings to an answer and a report, in one go
	$(PY) -m ohmsworth demo

# Most tests as many at a time as there are processors; then, file by file and two at a time, those that drive a browser or kill
# servers under way, and mostly wait: more of them would wait for each other.
AT_ONCE := src tests/unit tests/published tests/properties tests/frozen tests/web tests/house tests/adapters tests/journeys
WAITING := tests/browser tests/reliability

test: .venv/dev.stamp ## run the tests; a part of them with ARGS='tests/unit -k name'
ifeq ($(ARGS),)
	@failed=0; set -x; \
	$(PY) -m pytest -n auto --maxprocesses 8 --dist worksteal $(AT_ONCE) || failed=1; \
	$(PY) -m pytest -n 2 --dist loadfile $(WAITING) || failed=1; exit $$failed
else
	$(PY) -m pytest $(ARGS)
endif

check: .venv/dev.stamp ## lint, format, types and import rules; changes nothing
	$(PY) -m ruff check --output-format concise .
	$(PY) -m ruff format --check .
	$(PY) -m mypy
	$(PY) -c 'from importlinter.cli import lint_imports_command as lint; lint()'

docs: .venv/dev.stamp ## build the manual into build/docs; a warning is an error
	$(PY) -m sphinx --fail-on-warning --keep-going --quiet docs build/docs

bench: .venv/dev.stamp ## speed and memory against a named peer, one result line each
	@set -e; for file in benchmarks/bench_*.py; do \
	  if [ -e "$$file" ]; then $(PY) "$$file"; else echo "No benchmarks yet."; fi; done

lock: .venv/bin/python ## write requirements*.txt anew from pyproject.toml
	mkdir -p build/lock
	cp pyproject.toml build/lock/
	$(PY) -m venv build/lock/venv
	build/lock/venv/bin/python -m pip --disable-pip-version-check install --quiet --quiet uv
	cd build/lock && venv/bin/python -m uv lock --quiet
	cd build/lock && venv/bin/python -m uv export --quiet --locked --no-emit-project --no-annotate --no-header \
	  --format requirements.txt --no-dev --group build --output-file run.txt
	cd build/lock && venv/bin/python -m uv export --quiet --locked --no-emit-project --no-annotate --no-header \
	  --format requirements.txt --group dev --output-file dev.txt
	cp build/lock/run.txt requirements.txt
	cp build/lock/dev.txt requirements-dev.txt

clean: ## remove everything that these commands made
	rm -rf .venv build demo .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis

.venv/run.stamp: requirements.txt pyproject.toml | .venv/bin/python
	@echo "Installing what ohmsworth runs on ..."
	@$(INSTALL_LOCK) requirements.txt
	@$(INSTALL_PROJECT)
	@touch $@

# The development lock holds the run-time lock, with the same pins.
.venv/dev.stamp: requirements-dev.txt pyproject.toml | .venv/bin/python
	@echo "Installing what ohmsworth is developed with ..."
	@$(INSTALL_LOCK) requirements-dev.txt
	@$(INSTALL_PROJECT)
	@touch .venv/run.stamp $@

.venv/bin/python:
	@for python in $(PYTHONS); do \
	  if "$$python" -c 'import ensurepip, sys, venv; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then \
	    echo "Making .venv with $$("$$python" --version) ..."; \
	    exec "$$python" -m venv --clear .venv; \
	  fi; \
	done; \
	echo 'Ohmsworth needs Python 3.11 or newer with its venv module; tried $(PYTHONS).' >&2; \
	echo "Install it (on Debian: apt-get install python3 python3-venv), or name it: make PYTHON=/path/to/python3" >&2; \
	exit 1
