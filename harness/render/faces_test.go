package render

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/fixtures/gofaces"
)

const fontDir = "/usr/share/fonts/truetype"

// family is a row of the fidelity table.
type family struct {
	name  string
	files []string

	mu     sync.Mutex
	drawn  int
	kinds  map[string]int // differences by cause
	others []string       // one line each
}

// folders are where the families of Debian's packages lie.
var folders = map[string]string{
	"DejaVu": "dejavu", "Vera": "ttf-bitstream-vera", "Liberation 2": "liberation2",
	"Lato": "lato", "Nanum": "nanum", "Anonymous Pro": "anonymous-pro", "AR PL Mingti": "arphic-bsmi00lp",
	"Baekmuk": "baekmuk", "IPA Gothic": "../opentype/ipafont-gothic",
}

// families finds the files of each; a family with none is missing.
func families(t *testing.T, names ...string) []*family {
	t.Helper()
	var all []*family
	for _, name := range names {
		f := &family{name: name, kinds: map[string]int{}}
		if name == "Go" {
			f.files = goFaces(t)
		} else {
			require.Contains(t, folders, name, "the families are Go and these")
			files, err := filepath.Glob(filepath.Join(fontDir, folders[name], "*.ttf"))
			require.NoError(t, err)
			if len(files) == 0 {
				missing(t, "fonts of "+name+" are not installed")
			}
			f.files = files
		}
		all = append(all, f)
	}
	return all
}

// slice is what every test run draws: a face hinted by hand, one with composites
// of another maker, one by machine.
func slice(t *testing.T) *family {
	return &family{name: "slice", kinds: map[string]int{}, files: []string{
		fontFile(t, "dejavu/DejaVuSans.ttf"), fontFile(t, "ttf-bitstream-vera/VeraSe.ttf"), goFaces(t)[0],
	}}
}

func goFaces(t *testing.T) []string {
	paths, err := gofaces.Write(t.TempDir())
	require.NoError(t, err)
	return paths
}

// fontFile finds a font of the system.
func fontFile(t *testing.T, name string) string {
	t.Helper()
	path := filepath.Join(fontDir, name)
	if _, err := os.Stat(path); err != nil {
		missing(t, "font "+name+" is not installed")
	}
	return path
}

// missing fails in CI, where everything must be installed, and skips elsewhere.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

func (f *family) share() float64 {
	return 100 * float64(f.drawn-len(f.others)) / float64(max(1, f.drawn))
}

func (f *family) causes() string {
	var all []string
	for _, k := range slices.Sorted(maps.Keys(f.kinds)) {
		all = append(all, fmt.Sprintf("%s %d", k, f.kinds[k]))
	}
	return strings.Join(all, ", ")
}
