package bytecode

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The method of each opcode tells the same five things in the same order: its
// name, what it pops and pushes, what it does, and the chapter that says so.
func TestEveryInstructionIsDocumentedAlike(t *testing.T) {
	docs := methodDocs(t)
	for op := range 256 {
		in := instructions[op]
		method := methodName(in)
		doc, ok := docs[method]
		require.True(t, ok, "0x%02X: no comment on %s", op, method)
		lines := strings.Split(strings.TrimSpace(doc), "\n")
		require.True(t, strings.HasPrefix(lines[0], method+": "), "%s: its comment begins %q", method, lines[0])
		at := 0
		for _, field := range []string{"Pops:   ", "Pushes: ", "Does:   ", "Spec:   "} {
			for at < len(lines) && !strings.HasPrefix(lines[at], field) {
				at++
			}
			require.Less(t, at, len(lines), "%s: no line %q, or out of order", method, field)
		}
		require.Equal(t, len(lines)-1, at, "%s: the chapter comes last", method)
		if in.name == "undefined" {
			continue
		}
		require.Contains(t, lines[0], in.name+"[", "%s", method)
		require.True(t, strings.Contains(lines[0], fmt.Sprintf("0x%02X", op)) || within(t, lines[0], op), "%s: %q does not name 0x%02X", method, lines[0], op)
	}
}

// within says whether a line names a span of opcodes that holds op.
func within(t *testing.T, line string, op int) bool {
	before, after, ok := strings.Cut(line, " to 0x")
	if !ok {
		return false
	}
	var first, last int
	_, err := fmt.Sscanf(before[strings.LastIndex(before, "0x"):], "0x%X", &first)
	require.NoError(t, err, line)
	_, err = fmt.Sscanf(after, "%X", &last)
	require.NoError(t, err, line)
	return op >= first && op <= last
}

func methodDocs(t *testing.T) map[string]string {
	files, err := filepath.Glob("ins_*.go")
	require.NoError(t, err)
	docs := map[string]string{}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		require.NoError(t, err)
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Recv != nil && f.Doc != nil {
				docs[f.Name.Name] = f.Doc.Text()
			}
		}
	}
	return docs
}

func methodName(in instruction) string {
	full := runtime.FuncForPC(reflect.ValueOf(in.run).Pointer()).Name()
	return full[strings.LastIndex(full, ".")+1:]
}

// Spot checks of opcodes against the specification's index of instructions.
func TestOpcodesAreThoseOfTheSpecification(t *testing.T) {
	for op, name := range map[byte]string{
		0x00: "SVTCA", 0x0F: "ISECT", 0x18: "RTG", 0x19: "RTHG", 0x20: "DUP", 0x2F: "MDAP", 0x31: "IUP", 0x39: "IP",
		0x3D: "RTDG", 0x40: "NPUSHB", 0x5D: "DELTAP1", 0x68: "ROUND", 0x76: "SROUND", 0x77: "S45ROUND", 0x7A: "ROFF",
		0x7C: "RUTG", 0x7D: "RDTG", 0x85: "SCANCTRL", 0x88: "GETINFO", 0x8D: "SCANTYPE", 0x8E: "INSTCTRL",
		0xB0: "PUSHB", 0xB8: "PUSHW", 0xC0: "MDRP", 0xDF: "MDRP", 0xE0: "MIRP", 0xFF: "MIRP", 0x7B: "undefined",
	} {
		require.Equal(t, name, Name(op), "0x%02X", op)
	}
}
