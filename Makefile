# The two commands: `make demo` and `make test`. Each first builds what it needs, once.

VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready
PROGRAMS := $(VENV)/test-programs
DEMO_OUT := demo-out
MAKEFLAGS += --no-print-directory

.PHONY: demo test check score bench docs clean help

help:
	@echo "make demo    do the whole job on an example and write its lists to demo-out/"
	@echo "make test    lint, types, imports, and every test"
	@echo "make score   score the reader on the corpus"
	@echo "make bench   speeds, as ratios in one run"
	@echo "make docs    refresh the kept help, the schemas and the examples in README and docs"
	@echo "make clean   take away what was built"

# The example has a question open, so it ends with 3 (something is on hold): here that is as it should be.
demo: $(READY)
	@$(BIN)/gutterance demo --out $(DEMO_OUT) || test $$? -eq 3

test: check $(PROGRAMS)/.ready
	@$(BIN)/pytest -n 2 --dist loadscope

check: $(READY)
	@$(BIN)/ruff check
	@$(BIN)/ruff format --check
	@$(BIN)/mypy
	@$(BIN)/lint-imports

score: $(READY)
	@$(BIN)/gutterance score corpus --held || test $$? -eq 3

bench: $(READY) $(PROGRAMS)/.ready
	@$(BIN)/python benchmarks/start_up.py
	@$(BIN)/python benchmarks/reading_speed.py
	@$(BIN)/python benchmarks/layout_scaling.py
	@$(BIN)/python benchmarks/papers.py
	@$(BIN)/python benchmarks/table_layouts.py
	@$(BIN)/python benchmarks/closure_scaling.py
	@$(BIN)/python benchmarks/closure_repairs.py
	@$(BIN)/python benchmarks/pages.py

docs: $(READY)
	@$(BIN)/python tools/shown_commands.py --write
	@$(BIN)/python tools/pictures.py

$(READY): pyproject.toml constraints.txt tools/build-venv.sh
	@sh tools/build-venv.sh $(VENV)
	@touch $@

$(PROGRAMS)/.ready: tools/install-test-programs.sh | $(READY)
	@sh tools/install-test-programs.sh $(PROGRAMS)
	@touch $@

clean:
	rm -rf $(VENV) build dist demo-out .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
