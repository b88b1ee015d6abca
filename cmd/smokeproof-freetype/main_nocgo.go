//go:build !cgo

package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "smokeproof-freetype: built without cgo, so without FreeType; build with CGO_ENABLED=1 and the FreeType headers installed")
	os.Exit(2)
}
