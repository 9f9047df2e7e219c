# Two commands do everything:  make submittal   and   make test
VENV   := .venv
PYTHON ?= python3
BIN    := $(VENV)/bin
PIP    := $(BIN)/python -m pip --disable-pip-version-check
JOBS   := quartz_saddle heron_quay

.PHONY: submittal test lint bench lock clean

# Bind the demo jobs; says where each PDF is and what its checks came to.
submittal: $(VENV)/.ready
	@for job in $(JOBS); do $(BIN)/rackbook bind data/jobs/$$job --out submittal/$$job || exit 1; done

test: $(VENV)/.ready-dev lint
	$(BIN)/python -m pytest -n auto --dist worksteal

lint: $(VENV)/.ready-dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/lint-imports
	$(BIN)/mypy

# Ratios measured side by side in one run; nothing here passes or fails.
bench: $(VENV)/.ready-dev
	$(BIN)/python -m bench

$(VENV)/.ready: requirements.lock pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "rackbook needs Python 3.11 or newer")'
	test -d $(VENV) || $(PYTHON) -m venv $(VENV)
	$(PIP) install --quiet -r requirements.lock
	$(PIP) install --quiet --no-deps -e .
	touch $@

$(VENV)/.ready-dev: $(VENV)/.ready requirements-dev.lock
	$(PIP) install --quiet -r requirements-dev.lock
	touch $@

# Write the lock files anew from the ranges in pyproject.toml; they name versions, never a host.
lock:
	$(BIN)/pip-compile --quiet --strip-extras --no-header --no-annotate --no-emit-index-url --no-emit-find-links --no-emit-trusted-host -o requirements.lock pyproject.toml
	$(BIN)/pip-compile --quiet --strip-extras --no-header --no-annotate --no-emit-index-url --no-emit-find-links --no-emit-trusted-host --extra dev -c requirements.lock -o requirements-dev.lock pyproject.toml

clean:
	rm -rf $(VENV) submittal build dist .pytest_cache .hypothesis .ruff_cache .mypy_cache
