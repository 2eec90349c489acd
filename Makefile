# What a person runs; `make help` lists it. Needs Python 3.11 or newer and make, and installs the rest into .venv.

FIT := import sys; sys.exit(sys.version_info < (3, 11))
CANDIDATES := python3 python3.13 python3.12 python3.11
PYTHON ?= $(shell for p in $(CANDIDATES); do $$p -c '$(FIT)' 2>/dev/null && echo $$p && break; done)
ifeq ($(strip $(PYTHON)),)
PYTHON := python3
endif

# The data folder, as advisor/project/env.py reads it: from the environment, else from .env, else var; a catalogue
# without the demo's parts has a folder of its own there, so that the two never mix.
DEMO ?= 1
OWN := $(filter 0 no false off,$(DEMO))
DATA := $(BAYWIND_DATA)
ifeq ($(DATA),)
DATA := $(shell sed -n 's/^BAYWIND_DATA=//p' .env 2>/dev/null)
endif
ifeq ($(DATA),)
DATA := var
BELOW := $(if $(OWN),/own)
endif
KERNELS := $(if $(filter /%,$(DATA)),$(DATA),$(CURDIR)/$(DATA))
export BAYWIND_DATA := $(KERNELS)$(BELOW)
export NUMBA_CACHE_DIR := $(shell "$(PYTHON)" advisor/project/kernel_cache.py "$(KERNELS)")
export OPENBLAS_NUM_THREADS := 1
export OMP_NUM_THREADS := 1

RUN := .venv/bin/python
BOOTSTRAP := "$(PYTHON)" advisor/project/bootstrap.py
BRIEF ?= fixtures/briefs/ten_drive_archive_box.yaml

.DEFAULT_GOAL := help
.PHONY: help run test quick lint imports chaos fuzz bench lock install install-dev python

help: ## list these commands
	@sed -n 's/^\([a-z]*\):.*## /  make \1\t/p' Makefile | expand -t 18

run: install ## score the sample brief (BRIEF=path) over the demo catalogue, then serve; DEMO=0: without the demo
	@$(BOOTSTRAP) kernels
	@$(RUN) -m advisor.project.serve --check
	@$(RUN) manage.py migrate --verbosity 0
	@$(RUN) manage.py collectstatic --noinput --verbosity 0
ifeq ($(OWN),)
	@$(RUN) manage.py load_catalog fixtures/catalog
	@$(RUN) manage.py advise "$(BRIEF)"
endif
	@exec $(RUN) -m advisor.project.serve --tied $(if $(OWN),--empty)

test: lint imports ## everything: lint, types, import contracts, migrations, checks, all tests, on SQLite and PostgreSQL
	@$(RUN) manage.py makemigrations --check --dry-run
	@$(RUN) manage.py check --fail-level WARNING
	@$(BOOTSTRAP) kernels
	@$(RUN) -m pytest -n 2
	@$(RUN) -m tests.postgres -n 2

quick: install-dev ## the tests without the slow and the browser ones
	@$(RUN) -m pytest -n 2 -m "not slow and not browser"

lint: install-dev ## style, format and types
	@$(RUN) -m ruff check .
	@$(RUN) -m ruff format --check .
	@$(RUN) -m mypy

imports: install-dev ## the import contracts of pyproject.toml
	@.venv/bin/lint-imports

chaos: install-dev ## long: whatever can be killed is killed in mid-study (one test: ONLY=name)
	@$(RUN) -m pytest tests/chaos $(if $(ONLY),-k "$(ONLY)")

fuzz: install-dev ## long: requests drawn from the REST interface's own description (more: EXAMPLES=100)
	@FUZZ_EXAMPLES=$(or $(EXAMPLES),20) $(RUN) -m pytest tests/api/test_fuzz.py

bench: install-dev ## measure speed (one measurement: ONLY=name); writes bench.json into the data folder
	@$(BOOTSTRAP) kernels
	@$(RUN) -m tests.bench $(ONLY)

lock: ## compile the lock files from requirements*.in; needs uv
	@command -v uv >/dev/null || { echo "make lock needs uv on the PATH; install it with: pip install uv" >&2; exit 1; }
	@for name in requirements requirements-dev; do \
	  uv pip compile --quiet --universal --fork-strategy fewest --python-version 3.11 --generate-hashes \
	    --no-emit-index-url --custom-compile-command "make lock" -o $$name.txt $$name.in || exit 1; done

install: python
	@$(BOOTSTRAP) install requirements.txt

install-dev: python
	@$(BOOTSTRAP) install requirements-dev.txt

python:
	@"$(PYTHON)" -c '$(FIT)' 2>/dev/null || { echo "Baywind needs Python 3.11 or newer, and '$(PYTHON)' here is" \
	  "$$("$(PYTHON)" --version 2>&1 | tail -n 1); install one, or name it: make run PYTHON=/path/to/python3.12" >&2; exit 1; }
