package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"math/bits"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestLimitsOfTheTableAreThoseOfTheCode holds the table in DEVELOPERS.md
// against the constants whose names begin with max.
func TestLimitsOfTheTableAreThoseOfTheCode(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	limits := map[string]uint64{}
	for _, room := range []string{"golden", "diff", "harness"} {
		require.NoError(t, filepath.WalkDir("../../"+room, func(dir string, d fs.DirEntry, err error) error {
			if err == nil && d.IsDir() && d.Name() != "testdata" {
				addLimits(t, limits, dir)
			}
			return err
		}))
	}
	require.NotEmpty(t, limits)
	constants := regexp.MustCompile("`([a-z/]+\\.[mM]ax[A-Za-z]+)`")
	for line := range strings.Lines(string(page)) {
		cells := strings.Split(line, "|")
		if len(cells) != 6 {
			continue
		}
		for _, m := range constants.FindAllStringSubmatch(cells[3], -1) {
			v, ok := limits[m[1]]
			require.True(t, ok, "%s is in the table, and not in the code", m[1])
			require.True(t, says(cells[2], v), "%s is %d, the table says %s", m[1], v, cells[2])
			delete(limits, m[1])
		}
	}
	require.Empty(t, limits, "limits that the table in DEVELOPERS.md does not have")
}

// addLimits finds the constants of one package.
func addLimits(t *testing.T, limits map[string]uint64, dir string) {
	set := token.NewFileSet()
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(set, name, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		files = append(files, f)
	}
	// What is imported does not matter to a constant: the errors of that are ignored.
	c := types.Config{IgnoreFuncBodies: true, Importer: nothing{}, Error: func(error) {}}
	pkg, _ := c.Check(dir, set, files, nil)
	for _, name := range pkg.Scope().Names() {
		k, ok := pkg.Scope().Lookup(name).(*types.Const)
		if !ok || !regexp.MustCompile("^[mM]ax[A-Z]").MatchString(name) {
			continue
		}
		v, exact := constant.Uint64Val(constant.ToInt(k.Val()))
		require.True(t, exact, "%s %s", dir, name)
		limits[strings.TrimPrefix(filepath.ToSlash(dir), "../../")+"."+name] = v
	}
}

type nothing struct{}

func (nothing) Import(path string) (*types.Package, error) {
	return nil, fmt.Errorf("%s is not needed", path)
}

// spellings are the ways in which the table may write a value.
func spellings(v uint64) []string {
	digits := fmt.Sprint(v)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	out := []string{digits}
	if v&(v-1) == 0 {
		n := bits.TrailingZeros64(v)
		out = append(out, fmt.Sprintf("2^%d", n))
	}
	for i, unit := range []string{"KiB", "MiB", "GiB"} {
		if size := uint64(1) << (10 * (i + 1)); v%size == 0 {
			out = append(out, fmt.Sprintf("%d %s", v/size, unit))
		}
	}
	return out
}

// says that one of the values in a cell is v.
func says(cell string, v uint64) bool {
	return slices.ContainsFunc(strings.Split(cell, ", "), func(w string) bool {
		return slices.Contains(spellings(v), strings.TrimSpace(w))
	})
}
