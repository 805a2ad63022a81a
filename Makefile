# Two commands do all the set-up: `make demo` and `make test`. Each makes the environment first.
PYTHON ?= python3
VENV := .venv
RUN := $(VENV)/bin

.PHONY: demo test bench check-style clean

demo: $(VENV)/.user
	$(RUN)/benchleaf build site_demo/mkdocs.yml
	@echo
	@echo "The demo manual is ready. Open this file in a browser:"
	@echo "    site_demo/site/index.html"

test: $(VENV)/.dev
	@sh .ci/browser
	$(RUN)/ruff check generator themes tests bench
	$(RUN)/mypy
	$(RUN)/python -m pytest -n auto

bench: $(VENV)/.bench
	$(RUN)/python -m bench

check-style: $(VENV)/.dev
	$(RUN)/ruff check generator themes tests bench
	$(RUN)/mypy

$(VENV)/bin/pip:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "benchleaf needs Python 3.11 or later; say which with: make PYTHON=python3.12 demo"; exit 1; }
	@$(PYTHON) -m venv $(VENV) || \
	  { echo "Python cannot make an environment here. On Debian: apt-get install python3-venv"; exit 1; }

$(VENV)/.user: pyproject.toml | $(VENV)/bin/pip
	$(RUN)/pip install --quiet --disable-pip-version-check -e .
	@touch $@

$(VENV)/.dev: pyproject.toml | $(VENV)/bin/pip
	$(RUN)/pip install --quiet --disable-pip-version-check -e '.[dev]'
	@touch $@ $(VENV)/.user

$(VENV)/.bench: pyproject.toml | $(VENV)/.dev
	$(RUN)/pip install --quiet --disable-pip-version-check -e '.[dev,bench]'
	@touch $@

clean:
	rm -rf $(VENV) site_demo/site
