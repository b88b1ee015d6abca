# make demo needs Go alone. make test installs what its tests need.
GO ?= go
APT = build-essential pkg-config libfreetype-dev ghostscript chromium poppler-utils libxml2-utils \
	parallel fonts-dejavu-core fonts-dejavu-extra fonts-liberation2 ttf-bitstream-vera \
	fonts-anonymous-pro xfonts-100dpi xfonts-75dpi xfonts-utils git \
	xfonts-scalable fonts-urw-base35 fonts-lmodern
# Slow suites on PostScript faces read these as well; some are large.
POSTSCRIPT = texlive-base fonts-cantarell fonts-texgyre cm-super-minimal fonts-noto-cjk

.PHONY: all demo page test setup lint vuln bench fuzz fidelity stems judge outlines archive hostile freetype slurm clean

all: bin/smokeproof

bin/smokeproof: FORCE
	CGO_ENABLED=0 $(GO) build -o $@ ./cmd/smokeproof
.PHONY: FORCE

# The main job on the demo faces: approve revision A, draw revision B, review.
demo: bin/smokeproof
	@$(GO) run ./fixtures/demo --smokeproof bin/smokeproof --out out/demo

# Installs Debian packages when root; otherwise says what is missing.
setup:
	@missing=$$(for p in $(APT); do dpkg -s $$p >/dev/null 2>&1 || echo $$p; done); \
	if [ -z "$$missing" ]; then exit 0; fi; \
	if [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
		apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing >/dev/null; \
	else echo "make test: these Debian packages are missing:" $$missing >&2; fi

test: setup
	$(GO) test ./...
	$(GO) test -race -run 'TestResultsComeBackAsTheyWereWritten|TestAGoldenChangedBehind' ./harness

lint:
	@out=$$(gofmt -l .); if [ -n "$$out" ]; then echo "gofmt would change:" $$out; exit 1; fi
	$(GO) vet ./...
	$(GO) tool staticcheck ./...
	$(GO) mod verify
	CGO_ENABLED=0 $(GO) build ./...
	GOARCH=arm64 $(GO) vet ./harness/raster # which has assembler for amd64
	@$(MAKE) --no-print-directory vuln

# Known vulnerabilities in what the command calls, by the Go vulnerability
# database as the module proxy has it today. One in a module fails; one in the
# standard library is the toolchain's: it is printed, and a newer Go cures it.
vuln:
	@db=$$(cd / && $(GO) mod download -json golang.org/x/vulndb@latest | sed -n 's/.*"Dir": "\(.*\)".*/\1/p'); \
	if [ -z "$$db" ]; then echo "vuln: NOT CHECKED: the database cannot be had from the module proxy" >&2; exit 0; fi; \
	out=$$($(GO) tool govulncheck -db "file://$$db/data/osv" ./cmd/...) && exit 0; \
	if echo "$$out" | grep -q 'Module: '; then echo "$$out"; exit 1; fi; \
	if ! echo "$$out" | grep -q 'Standard library'; then echo "$$out" >&2; exit 1; fi; \
	echo "$$out" | grep -E 'Vulnerability|Found in|Fixed in' | paste - - - | sed 's/^/vuln: the Go toolchain: /'

# The worker that puts FreeType behind the renderer protocol.
freetype:
	CGO_ENABLED=1 $(GO) build -o bin/smokeproof-freetype ./cmd/smokeproof-freetype

# The review page in a real browser; pictures of it under out/screenshots.
page: setup
	$(GO) test -count=1 -v -run Page ./cmd/smokeproof/

# The built-in renderer against FreeType, every glyph of four families; then hinted
# points against FreeType's, of these, of faces that need a lenient interpreter, and
# of programs damaged at random.
fidelity: APT += fonts-lato fonts-nanum fonts-ipafont-gothic fonts-arphic-bsmi00lp fonts-anonymous-pro
fidelity: setup
	SMOKEPROOF_FIDELITY=1 $(GO) test -count=1 -run TestFidelity -v -timeout 80m ./harness/render/
	SMOKEPROOF_FIDELITY=1 $(GO) test -count=1 -run 'HintedPoints|DamagedPrograms' -v -timeout 60m ./harness/gridfit/

# Fitted stems of every PostScript face of seven packages, FreeType's beside ours.
stems: APT += texlive-base fonts-cantarell fonts-texgyre fonts-noto-cjk
stems: setup
	SMOKEPROOF_STEMS=1 $(GO) test -count=1 -run TestFittedStems -v -timeout 300m ./harness/render/

# Seeded faults with the truth known, by finding and severity, beside two plain measures.
judge: setup
	SMOKEPROOF_JUDGE=1 $(GO) test -count=1 -v -run Seeded -timeout 40m ./fixtures/faults/

# Every glyph of the PostScript packages, unhinted, against FreeType.
outlines: APT += $(POSTSCRIPT)
outlines: setup
	SMOKEPROOF_OUTLINES=1 $(GO) test -count=1 -run FreeTypeReads -v -timeout 30m ./harness/face/

# The archive: its size, as git packs it, and the time to load it; a thousand
# writers killed at random moments; every real font that its readers know.
archive: APT += texlive-base texlive-binaries fonts-unifont xfonts-unifont
archive: setup
	SMOKEPROOF_ARCHIVE=1 $(GO) test -count=1 -v -run 'Archive|HandMade|PKLands' ./harness/
	SMOKEPROOF_ARCHIVE=1 $(GO) test -count=1 -timeout 60m ./golden/

# 50,000 damaged fonts through the whole check, and a minute of killed workers.
hostile: setup
	SMOKEPROOF_HOSTILE=1 $(GO) test -count=1 -v -timeout 80m -run 'Mutants|Killed' ./harness/

# The recipe for a Slurm job array, on a Slurm that runs on this machine while it does; as root.
slurm: APT += slurmctld slurmd slurm-client munge
slurm: setup
	SMOKEPROOF_SLURM=1 $(GO) test -count=1 -v -run TestScripts/slurm ./cmd/smokeproof/

# Ratios and exponents of whole runs, then the benchmarks for benchstat: some ten minutes.
bench: APT += fonts-ipafont-gothic fonts-noto-cjk
bench: setup
	$(GO) run ./fixtures/bench
	$(GO) test -run XXX -bench . -benchmem ./...

# Each fuzz target for a minute.
fuzz:
	@for pkg in $$($(GO) list ./...); do \
		for f in $$($(GO) test -list '^Fuzz' $$pkg | grep '^Fuzz'); do \
			$(GO) test -run XXX -fuzz "^$$f$$" -fuzztime 60s -fuzzminimizetime 5s $$pkg || exit 1; done; done

clean:
	rm -rf bin out
