# make demo   set up, load the sample district, serve it, print the address
# make test   set up, then every check: style, types, tests, wheel, pages in a browser
# The other targets are for developers; DEVELOPERS.md says when to use them.

VENV := .venv
BIN := $(VENV)/bin
# The first Python that is new enough and can make an environment.
PYTHON ?= $(shell for python in python3.13 python3.12 python3.11 python3.14 python3; do \
	$$python -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 \
	&& echo $$python && break; done)
# Quiet: the build back end warns of editable installs, which is what a checkout wants.
PIP := PYTHONWARNINGS=ignore $(BIN)/python -m pip --quiet --disable-pip-version-check
# What drives the browser is a program of its own, which needs libatomic.
CHROMIUM_PACKAGES := chromium fonts-dejavu-core fonts-noto-core libatomic1

.PHONY: demo test check-style check-types check-tests lint bench generate chromium axe clean

demo: $(VENV)/.installed
	$(BIN)/soundbow demo

test: $(VENV)/.test-ready chromium axe check-style check-types check-tests

check-style: $(VENV)/.test-ready
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .

check-types: $(VENV)/.test-ready
	$(BIN)/mypy

check-tests: $(VENV)/.test-ready
	$(BIN)/pytest -n 2 --dist worksteal

lint: check-style check-types

bench: $(VENV)/.test-ready
	$(BIN)/python benchmarks/load.py

# Everything that is written from the model, and every expected report: read the difference before a commit.
generate: $(VENV)/.test-ready
	$(BIN)/pytest -q --rewrite

$(VENV)/.made:
	@test -n "$(PYTHON)" || { echo "soundbow needs Python 3.11 or newer with its venv module" \
		"(Debian, Ubuntu: apt-get install python3-venv). Name another one: make PYTHON=/path/to/python3"; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(PIP) install --upgrade 'pip>=25.1'
	@touch $@

$(VENV)/.installed: pyproject.toml constraints.txt | $(VENV)/.made
	$(PIP) install --constraint constraints.txt --editable .
	@touch $@

$(VENV)/.test-ready: $(VENV)/.installed
	$(PIP) install --constraint constraints.txt --group dev
	@touch $@

# The tests of the pages need a browser. Installed where that takes no password; else they are skipped, saying so.
chromium:
	@if command -v chromium chromium-browser google-chrome >/dev/null 2>&1 || [ -n "$$SOUNDBOW_CHROMIUM" ]; then :; \
	elif [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then \
		apt-get update -qq && DEBIAN_FRONTEND=noninteractive \
		apt-get install -qq -y --no-install-recommends $(CHROMIUM_PACKAGES) >/dev/null \
		|| echo "Chromium could not be installed: the tests in a browser are skipped."; \
	else echo "No Chromium here: the tests in a browser are skipped. Install it, or set SOUNDBOW_CHROMIUM."; fi

axe: package-lock.json
	@if command -v npm >/dev/null 2>&1; then [ -f node_modules/axe-core/axe.min.js ] || npm ci --no-audit --no-fund; \
	else echo "No npm here: the accessibility rules are not run over the pages."; fi

clean:
	rm -rf $(VENV) node_modules build dist demo *.egg-info
