package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"smokeproof/harness"
	"smokeproof/harness/review"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"smokeproof": main,
		"nofpgm":     emptyFontProgram,
		"nonames":    noNames,
		"halve":      halve,
		"flipink":    flipInk,
		"decide":     decide,
		"dotrow":     dotRow,
		"dropline":   dropLine,
		"dropglyph":  dropGlyph,
		"collect":    collect,
	})
}

// TestScripts runs the command as a person does, through its real main.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup:               goFonts,
		Condition: func(name string) (bool, error) {
			switch name {
			case "ci":
				return os.Getenv("CI") == "true", nil
			case "slurm":
				return os.Getenv("SMOKEPROOF_SLURM") != "", nil
			}
			return false, fmt.Errorf("condition %q is unknown", name)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":    status,
			"interrupt": interrupt,
			"indexed":   indexed,
			"matrix":    matrix,
		},
	})
}

// goFonts lays three faces of x/image and the Larkmoor faces into the script's folder.
func goFonts(env *testscript.Env) error {
	fonts := map[string][]byte{"go.ttf": goregular.TTF, "gobold.ttf": gobold.TTF, "gomono.ttf": gomono.TTF}
	for _, name := range []string{"a.ttf", "b.ttf", "a.pfb", "a.otf"} {
		data, err := os.ReadFile("../../fixtures/larkmoor-text-" + name)
		if err != nil {
			return err
		}
		fonts["larkmoor-"+name] = data
	}
	for _, name := range []string{"parallel.sh", "slurm.sh", "loopback-slurm.sh", "kubernetes.yaml", "ci-matrix.yml"} {
		recipe, err := os.ReadFile("../../fixtures/recipes/" + name)
		if err != nil {
			return err
		}
		fonts[name] = recipe
	}
	for name, data := range fonts {
		if err := os.WriteFile(filepath.Join(env.WorkDir, name), data, 0o666); err != nil {
			return err
		}
	}
	env.Setenv("HOME", env.WorkDir)
	return nil
}

// status runs a command and holds its exit status against the first argument.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command args...")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		if _, e := fmt.Sscanf(strings.TrimSpace(err.Error()), "exit status %d", &got); e != nil {
			ts.Fatalf("%s: %v", args[1], err)
		}
	}
	if want := args[0]; fmt.Sprint(got) != want {
		ts.Fatalf("%s: exit status %d, want %s", strings.Join(args[1:], " "), got, want)
	}
}

func emptyFontProgram() { withoutFontProgram(os.Args[1], os.Args[2]) }

// withoutFontProgram copies a font and leaves its fpgm table empty.
func withoutFontProgram(from, to string) {
	data, err := os.ReadFile(from)
	if err != nil {
		panic(err)
	}
	for i := range int(data[4])<<8 | int(data[5]) {
		e := data[12+16*i : 28+16*i]
		if string(e[:4]) == "fpgm" {
			copy(e[12:16], []byte{0, 0, 0, 0})
		}
	}
	if err := os.WriteFile(to, data, 0o666); err != nil {
		panic(err)
	}
}

func noNames() { withoutNames(os.Args[1], os.Args[2]) }

// withoutNames copies a font and makes its post table one without names, version 3.
func withoutNames(from, to string) {
	data, err := os.ReadFile(from)
	if err != nil {
		panic(err)
	}
	entry := bytes.Index(data, []byte("post"))
	binary.BigEndian.PutUint32(data[binary.BigEndian.Uint32(data[entry+8:]):], 0x30000)
	if err := os.WriteFile(to, data, 0o666); err != nil {
		panic(err)
	}
}

// halve copies the first half of a file.
func halve() {
	data, err := os.ReadFile(os.Args[1])
	if err != nil {
		panic(err)
	}
	if err := os.WriteFile(os.Args[2], data[:len(data)/2], 0o666); err != nil {
		panic(err)
	}
}

// flipInk changes the first row of one glyph of a BDF file, as a bitmap editor would.
func flipInk() {
	data, err := os.ReadFile(os.Args[1])
	if err != nil {
		panic(err)
	}
	head, tail, found := strings.Cut(string(data), "STARTCHAR "+os.Args[2]+"\n")
	props, rows, ok := strings.Cut(tail, "BITMAP\n")
	if !found || !ok {
		panic("no glyph " + os.Args[2])
	}
	first := "F"
	if rows[0] == 'F' {
		first = "8"
	}
	changed := head + "STARTCHAR " + os.Args[2] + "\n" + props + "BITMAP\n" + first + rows[1:]
	if err := os.WriteFile(os.Args[1], []byte(changed), 0o666); err != nil {
		panic(err)
	}
}

// decide writes one verdict on every change of a results file, as the page does.
func decide() {
	res, err := harness.ReadResults(os.Args[1])
	if err != nil {
		panic(err)
	}
	out := review.Decisions{Version: review.DecisionsVersion}
	for _, c := range res.Changes {
		out.Decisions = append(out.Decisions, review.Decision{Face: c.Face, Device: c.Device, Size: c.Size, Glyph: c.Glyph,
			Digest: c.Digest, Verdict: os.Args[2], Why: "looked at it"})
	}
	data, err := json.Marshal(out)
	if err != nil {
		panic(err)
	}
	if err := os.WriteFile(os.Args[3], data, 0o666); err != nil {
		panic(err)
	}
}

// dotRow is an editor that turns the first ink of a file of art into none.
func dotRow() {
	edit(os.Args[1], func(text string) string { return strings.Replace(text, "#", ".", 1) })
}

// dropLine takes the line of one glyph out of an approvals file.
func dropLine() {
	edit(os.Args[1], func(text string) string {
		head, tail, ok := strings.Cut(text, "\n"+os.Args[2]+" ")
		_, rest, ended := strings.Cut(tail, "\n")
		if !ok || !ended {
			panic("no line for " + os.Args[2])
		}
		return head + "\n" + rest
	})
}

// collect makes a collection of one font: its tables stand behind a longer head.
func collect() {
	font, err := os.ReadFile(os.Args[1])
	if err != nil {
		panic(err)
	}
	const head = 16
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		offset := font[12+16*i+8:]
		binary.BigEndian.PutUint32(offset, binary.BigEndian.Uint32(offset)+head)
	}
	out := append([]byte("ttcf\x00\x01\x00\x00\x00\x00\x00\x01\x00\x00\x00\x10"), font...)
	if err := os.WriteFile(os.Args[2], out, 0o666); err != nil {
		panic(err)
	}
}

// dropGlyph takes one glyph out of a BDF file.
func dropGlyph() { takeOut(os.Args[1], os.Args[2]) }

func takeOut(bdf, name string) {
	edit(bdf, func(text string) string {
		head, tail, ok := strings.Cut(text, "STARTCHAR "+name+"\n")
		_, rest, ended := strings.Cut(tail, "ENDCHAR\n")
		if !ok || !ended {
			panic("no glyph " + name)
		}
		return head + rest
	})
}

func edit(path string, change func(string) string) {
	data, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	if err := os.WriteFile(path, []byte(change(string(data))), 0o666); err != nil {
		panic(err)
	}
}
