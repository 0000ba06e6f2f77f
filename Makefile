# fillmark - everything that builds, checks and installs it.
#
#   make              build/fillmark
#   make demo         installs what is missing, builds, makes the demo packet
#   make check        installs what is missing, builds, runs every test
#   make check-quick  the same without looking at installed packages
#   make asan         every test again under the address and undefined-behaviour sanitizers
#   make valgrind     the quick test programs under valgrind
#   make bench        how fast packets are made, beside the floor; a batch's memory; the time of a supply plan
#   make intake N=10000   an invented clinic's export, in build/intake
#   make soak         a batch of 10,000 rows, 3 % of them bad, held row by row against its export
#   make golden       writes the golden files afresh; read the difference before committing it
#   make gallery      writes samples/gallery/ afresh: a picture of each kind of page
#   make format       lays the source out as .clang-format says
#   make install      PREFIX (/usr/local) and DESTDIR as usual
#   make clean
#
# One test program alone: make build/release/tests/quantity/test_rational && build/release/tests/quantity/test_rational

VERSION = 0.1.0
PREFIX = /usr/local
DESTDIR =
# release | asan: each has its own folder below build/.
VARIANT = release

# As many steps at once as there are processors, unless told otherwise; sub-makes share them.
ifeq ($(MAKELEVEL)$(filter -j%,$(MAKEFLAGS)),0)
MAKEFLAGS += -j$(shell nproc)
endif

# The last line of a check is its result, not the name of a folder.
MAKEFLAGS += --no-print-directory

CC = gcc
# Turns `a := $(shell ...)` into one that runs at first use: cleaning, or setting up, needs no package yet.
once = $(eval $(1) := $(shell $(2)))$($(1))
PACKAGES = cairo pangocairo pangoft2 harfbuzz-subset libqpdf libdeflate fontconfig libcyaml yaml-0.1 icu-uc icu-i18n libqrencode glib-2.0 jansson
TEST_PACKAGES = cmocka gmp
# -isystem: the libraries' headers are not ours to warn about.
PACKAGE_CFLAGS = $(call once,PACKAGE_CFLAGS,pkg-config --cflags $(PACKAGES) | sed 's/-I/-isystem /g')
# Names are looked up in this order when the program starts: first where most of them are found, which takes a
# seventh off the start. libcsv brings no pkg-config file.
PACKAGE_LIBS = $(call once,PACKAGE_LIBS,echo -lqpdf -lc && pkg-config --libs $(PACKAGES) && echo -lcsv -lm)
TEST_CFLAGS = $(call once,TEST_CFLAGS,pkg-config --cflags $(TEST_PACKAGES) | sed 's/-I/-isystem /g')
TEST_LIBS = $(call once,TEST_LIBS,pkg-config --libs $(TEST_PACKAGES))

WARNINGS = -Wall -Wextra
WARNINGS += -Wshadow             # a dose hidden by another of the same name is read wrong
WARNINGS += -Wconversion         # a silently narrowed number is a wrong number
WARNINGS += -Wsign-conversion    # the same, across the sign
WARNINGS += -Wstrict-prototypes  # () would accept any arguments
WARNINGS += -Wmissing-prototypes # what other modules call is in a header; all else is static
WARNINGS += -Wpointer-arith      # void has no size in C
WARNINGS += -Wwrite-strings      # literals are const: nobody writes on a code or a message
WARNINGS += -Wvla                # input must not choose how much stack is used
WARNINGS += -Wundef              # a misspelt macro in #if would count as 0
WARNINGS += -Wformat=2           # messages carry input, so a format is always a literal
WARNINGS += -Wswitch-enum        # a new unit or container must be thought of in every switch
WARNINGS += -Werror              # none is left for later

# Assertions stay on in every variant: a broken promise must stop, never print a line.
OPTIMISE_release = -O2 -g
# One level lower, with frame pointers, so that reports name the right lines; the first fault ends the run.
OPTIMISE_asan = -O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
OPTIMISE = $(OPTIMISE_$(VARIANT))
DEFINES = -D_POSIX_C_SOURCE=200809L -DFILLMARK_VERSION='"$(VERSION)"' -DFILLMARK_DATA='"$(PREFIX)/share/fillmark"'
COMPILE = $(strip $(CC) -std=c11 $(DEFINES) $(OPTIMISE) $(WARNINGS) -MMD -MP -Isrc $(PACKAGE_CFLAGS))
# One short line a step; V=1 shows the whole commands.
step = $(if $(V),,@echo '$(1) $(2)';)

OUT = build/$(VARIANT)
SOURCES := $(sort $(wildcard src/*/*.c))
OBJECTS := $(SOURCES:src/%.c=$(OUT)/%.o)
MAIN := $(OUT)/cli/main.o
LIBRARY := $(OUT)/libfillmark.a
PROGRAM_release = build/fillmark
PROGRAM_asan = build/asan/fillmark
PROGRAM := $(PROGRAM_$(VARIANT))

# tests/support holds what several test programs share; every tests/LAYER/test_NAME.c is a program of its own,
# every tests/LAYER/test_NAME.sh a script that runs as it is.
TEST_SUPPORT := $(patsubst %.c,$(OUT)/%.o,$(sort $(wildcard tests/support/*.c)))
TEST_PROGRAMS := $(patsubst %.c,$(OUT)/%,$(sort $(wildcard tests/*/test_*.c)))
# Measured by 'make bench' alone: a busy machine would fail a check.
BENCH_PROGRAMS := $(patsubst %.c,$(OUT)/%,$(sort $(wildcard tests/bench/bench_*.c)))
TEST_SCRIPTS := $(sort $(wildcard tests/*/test_*.sh))
GOLDEN_TESTS := $(patsubst %.c,$(OUT)/%,$(sort $(wildcard tests/*/test_golden*.c)))

all: $(PROGRAM)

$(PROGRAM): $(MAIN) $(LIBRARY)
	$(call step,link,$@)$(CC) $(OPTIMISE) -o $@ $^ $(PACKAGE_LIBS)

# Made anew each time: `ar` alone would keep the object of a source that is gone.
$(LIBRARY): $(filter-out $(MAIN),$(OBJECTS))
	$(call step,archive,$@)rm -f $@ && ar rcs $@ $^

$(OUT)/%.o: src/%.c $(OUT)/flags
	@mkdir -p $(@D)
	$(call step,compile,$<)$(COMPILE) -c -o $@ $<

$(OUT)/tests/%.o: tests/%.c $(OUT)/flags
	@mkdir -p $(@D)
	$(call step,compile,$<)$(COMPILE) $(TEST_CFLAGS) -Itests -c -o $@ $<

$(TEST_PROGRAMS) $(BENCH_PROGRAMS): %: %.o $(TEST_SUPPORT) $(LIBRARY)
	$(call step,link,$@)$(CC) $(OPTIMISE) -o $@ $^ $(TEST_LIBS) $(PACKAGE_LIBS)

# Another PREFIX or another flag compiles everything anew, and nothing else does.
$(OUT)/flags: FORCE
	@mkdir -p $(@D)
	@echo '$(subst ','\'',$(COMPILE))' | cmp -s - $@ || echo '$(subst ','\'',$(COMPILE))' >$@

-include $(OBJECTS:.o=.d) $(TEST_PROGRAMS:=.d) $(BENCH_PROGRAMS:=.d) $(TEST_SUPPORT:.o=.d)
.SECONDARY:

lib: $(LIBRARY)
test-programs: $(TEST_PROGRAMS)

# --- Checks -------------------------------------------------------------------------------------------------------

check:
	scripts/setup.sh build check
	$(MAKE) check-quick

check-quick: $(PROGRAM) $(TEST_PROGRAMS)
	@FILLMARK=$(PROGRAM) scripts/run-tests.sh $(OUT)/logs $(TEST_PROGRAMS) $(TEST_SCRIPTS)

# What the house scripts look at does not depend on how the program was compiled.
# A sanitized batch takes several times as long: fewer rows, and of each kind of fault one all the same.
asan:
	BATCH_ROWS=60 BATCH_BAD=80 $(MAKE) VARIANT=asan TEST_SCRIPTS="$(filter-out tests/house/%,$(TEST_SCRIPTS))" check-quick

VALGRIND = valgrind --quiet --error-exitcode=9 --leak-check=full --errors-for-leak-kinds=definite \
	--suppressions=tests/valgrind.supp
valgrind: $(TEST_PROGRAMS)
	@UNDER="$(VALGRIND)" scripts/run-tests.sh $(OUT)/logs-valgrind $(TEST_PROGRAMS)

N = 10000
LANGUAGES = $(shell sed -n 's/^languages: \[\(.*\)\]/\1/p' samples/clinic.yaml | tr -d ' ')
intake:
	python3 tests/batch/make-intake.py build/intake --rows $(N) --languages $(LANGUAGES)
	@echo "build/intake holds intake.csv, its map.yaml, and key.csv, which says what is wrong with which row"

soak: $(PROGRAM)
	BATCH_SOAK=1 BATCH_ROWS=$(N) BATCH_BAD=3 TEST_SECONDS=36000 FILLMARK=$(PROGRAM) scripts/run-tests.sh $(OUT)/logs-soak \
		tests/batch/test_batch.sh
	@sed -n 's/^# /    /p' $(OUT)/logs-soak/*.out

golden: $(GOLDEN_TESTS)
	@for program in $^; do FILLMARK_GOLDEN=rewrite $$program || exit; done

bench: $(PROGRAM) $(BENCH_PROGRAMS)
	@tests/bench/run.sh $(PROGRAM) $(OUT)/tests/bench

gallery: $(PROGRAM)
	python3 scripts/gallery.py $(PROGRAM)

format:
	clang-format -i $(wildcard src/*/*.[ch] tests/*/*.[ch])

# --- Use ----------------------------------------------------------------------------------------------------------

demo:
	scripts/setup.sh build
	$(MAKE) build/fillmark
	build/fillmark packet samples/plans/mara.yaml -o build/demo.pdf
	@echo "The demo packet is $(CURDIR)/build/demo.pdf"

DATA = $(DESTDIR)$(PREFIX)/share/fillmark
install: $(PROGRAM)
	install -d $(DESTDIR)$(PREFIX)/bin $(DATA)
	install -m 755 $(PROGRAM) $(DESTDIR)$(PREFIX)/bin/fillmark
	cp -R fonts templates samples LICENSE $(DATA)

clean:
	rm -rf build

FORCE:
.PHONY: all lib test-programs check check-quick asan valgrind intake soak golden bench gallery format demo install clean FORCE
