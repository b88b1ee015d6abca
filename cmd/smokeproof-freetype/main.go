//go:build cgo

package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/pflag"

	"smokeproof/harness/render"
)

func main() {
	err := run(os.Args[1:])
	if err != nil && !errors.Is(err, pflag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "smokeproof-freetype:", err)
		os.Exit(2)
	}
}

func run(args []string) error {
	var s settings
	f := pflag.NewFlagSet("smokeproof-freetype", pflag.ContinueOnError)
	f.StringVar(&s.hinting, "hinting", "full", "full, light or none")
	f.IntVar(&s.interpreter, "interpreter", 35, "TrueType interpreter version: 35 or 40")
	f.BoolVar(&s.hdmx, "hdmx", false, "take advances from the font's hdmx table")
	f.BoolVar(&s.strikes, "strikes", false, "take bitmaps that the font holds")
	if err := f.Parse(args); err != nil {
		return err
	}
	if err := s.check(); err != nil {
		return err
	}
	l, err := openLibrary(s)
	if err != nil {
		return err
	}
	defer l.close()
	return render.Serve(os.Stdin, os.Stdout, l.identity(), l.draw)
}
