package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTheGuideOfAPackageNamesItsFiles holds the lists of files in package comments
// against the folders, both ways.
func TestTheGuideOfAPackageNamesItsFiles(t *testing.T) {
	for dir, guide := range map[string]string{
		"diff": "doc.go", "golden": "golden.go", "harness": "doc.go", "harness/review": "doc.go", "harness/render": "renderer.go",
	} {
		text, err := os.ReadFile(filepath.Join("../..", dir, guide))
		require.NoError(t, err)
		comment, _, _ := strings.Cut(string(text), "\npackage ")
		named := regexp.MustCompile(`[a-z_0-9*]+\.go\b`).FindAllString(comment, -1)
		require.NotEmpty(t, named, dir)
		missing := map[string]bool{}
		files, err := filepath.Glob(filepath.Join("../..", dir, "*.go"))
		require.NoError(t, err)
		for _, f := range files {
			if name := filepath.Base(f); !strings.HasSuffix(name, "_test.go") && name != "doc.go" {
				missing[name] = true
			}
		}
		for _, pattern := range named {
			there, err := filepath.Glob(filepath.Join("../..", dir, pattern))
			require.NoError(t, err)
			require.NotEmpty(t, there, "%s: its guide names %s, and there is none", dir, pattern)
			for _, f := range there {
				delete(missing, filepath.Base(f))
			}
		}
		require.Empty(t, missing, "%s: files that its guide does not name", dir)
	}
}
