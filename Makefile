.DEFAULT_GOAL := help
.PHONY: help demo test lint quick published bench names pages clean

BIN := .venv/bin
READY := .venv/.ready-to-run
TESTABLE := .venv/.ready-to-test
CODE := $(wildcard src tests tools benchmarks)

help: ## list the targets
	@grep -hE '^[a-z]+: .*##' $(MAKEFILE_LIST) | sed 's/:.*## /\t/'

demo: $(READY)  ## set up from scratch and answer every question for an example plane
	@$(BIN)/foamwright ask examples/reedling

test: lint  ## everything: format, lint, types, import contracts, all tests; set-up included
	$(BIN)/pytest -n auto --dist loadfile -p no:benchmark

lint: $(TESTABLE)  ## format, lint, types, import contracts
	$(BIN)/ruff format --check $(CODE)
	$(BIN)/ruff check $(CODE)
	$(BIN)/mypy
	$(BIN)/lint-imports --no-logo

quick: $(TESTABLE)  ## while working: all tests but the slow ones
	$(BIN)/pytest -m "not slow" -p no:benchmark

published: $(TESTABLE)  ## only the checks against the outside world
	$(BIN)/pytest -m published -p no:benchmark

bench: $(TESTABLE)  ## how long the answers take, as ratios to a baseline of the same run
	$(BIN)/pytest benchmarks

names: $(TESTABLE)  ## write docs/names.md, sources.md and plane-file.md anew from the code
	$(BIN)/python -X utf8 tools/list_names.py > docs/names.md
	$(BIN)/python -X utf8 tools/list_sources.py > docs/sources.md
	$(BIN)/python -X utf8 tools/list_plane_keys.py > docs/plane-file.md

pages: $(TESTABLE)  ## put today's numbers into what README and docs quote, and draw the picture anew
	$(BIN)/python tools/console_pages.py --write README.md $(wildcard docs/*.md docs/how-to/*.md)
	$(BIN)/python tools/draw_terminal.py examples/reedling docs/images/ask-reedling.svg

clean: ## remove what the targets above made
	rm -rf .venv .pytest_cache .mypy_cache .ruff_cache .import_linter_cache

# Either stamp is renewed when the dependencies may have changed.
$(READY): pyproject.toml .ci/set-up
	@.ci/set-up
	@touch $@

$(TESTABLE): pyproject.toml .ci/set-up
	@.ci/set-up dev
	@touch $(READY) $@
