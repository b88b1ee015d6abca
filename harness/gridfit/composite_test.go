package gridfit

import (
	"bytes"
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"

	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// component is one of a composite glyph as the glyf table writes it.
type component struct {
	flags uint16
	index int
	args  [2]int
	scale []face.F2Dot14
}

// composed is Go Regular in which one glyph is made of others, in the room that its
// outline had, under a program of its own where one is given.
func composed(t *testing.T, index int, parts []component, program ...byte) []byte {
	font := bytes.Clone(goregular.TTF)
	parsed, err := face.Parse(font, 0)
	require.NoError(t, err)
	f := parsed.(*face.TrueType)
	loca, short := f.Table("loca"), f.Table("head")[51] == 0
	require.True(t, short, "offsets by twos")
	from := 2 * int(binary.BigEndian.Uint16(loca[2*index:]))
	to := 2 * int(binary.BigEndian.Uint16(loca[2*index+2:]))
	record := binary.BigEndian.AppendUint16(nil, 0xFFFF)
	record = append(record, f.Table("glyf")[from+2:from+10]...) // the box, which nothing asks for
	for i, p := range parts {
		flags := p.flags
		if i+1 < len(parts) {
			flags |= face.MoreComponents
		} else if len(program) > 0 {
			flags |= face.HaveInstructions
		}
		record = binary.BigEndian.AppendUint16(record, flags)
		record = binary.BigEndian.AppendUint16(record, uint16(p.index))
		for _, a := range p.args {
			if flags&face.ArgsAreWords != 0 {
				record = binary.BigEndian.AppendUint16(record, uint16(a))
			} else {
				record = append(record, byte(a))
			}
		}
		for _, s := range p.scale {
			record = binary.BigEndian.AppendUint16(record, uint16(s))
		}
	}
	if len(program) > 0 {
		record = append(binary.BigEndian.AppendUint16(record, uint16(len(program))), program...)
	}
	require.LessOrEqual(t, len(record), to-from)
	copy(f.Table("glyf")[from:to], record)
	return font
}

// Every way in which the OpenType specification lets a component be put into its
// place ("glyf", composite glyph description), of which fonts use few. FreeType says
// what comes out, hinted; the design, in font units, is within a unit of it at a size
// of a pixel a unit.
func TestComponentsAreWhereFreeTypePutsThem(t *testing.T) {
	const (
		host, base, mark = 'W', 'o', 'n'
		half             = face.F2Dot14(1 << 13)
		third            = face.F2Dot14(0x1555)
		xy               = face.ArgsAreXY
	)
	second := buildPoints(t)
	sound, err := face.Parse(goregular.TTF, 0)
	require.NoError(t, err)
	at := map[rune]int{}
	for _, r := range sound.Refs() {
		at[r.Code] = r.Index
	}
	put := func(flags uint16, a, b int, scale ...face.F2Dot14) component {
		return component{flags, at[mark], [2]int{a, b}, scale}
	}
	for _, c := range []struct {
		reason string
		part   component
	}{
		{"by bytes, which have a sign", put(xy, 100, -90)},
		{"by words", put(xy|face.ArgsAreWords, 700, -500)},
		{"to the grid", put(xy|face.ArgsAreWords|face.RoundXYToGrid, 717, -513)},
		{"point to point", put(0, 3, 5)},
		{"point to point, by words", put(face.ArgsAreWords, 4, 2)},
		{"halved", put(xy|face.HaveScale, 100, 50, half)},
		{"narrowed", put(xy|face.HaveXYScale, 100, 50, third, half)},
		{"turned, and its offset not", put(xy|face.HaveTwoByTwo, 100, 50, 0, half, -half, third)},
		{"mirrored", put(xy|face.HaveXYScale|face.ArgsAreWords, 900, 0, -1<<14, 1<<14)},
		{"halved, and its offset too", put(xy|face.HaveScale|face.ScaledOffset, 100, 50, half)},
		{"narrowed, and its offset too", put(xy|face.HaveXYScale|face.ScaledOffset, 100, 50, third, half)},
		{"slanted, and its offset scaled", put(xy|face.HaveTwoByTwo|face.ScaledOffset, 100, 50, half, third, half, half)},
		{"halved, then point to point", put(face.HaveScale, 3, 5, half)},
		{"with the metrics of the letter that it is", put(xy|face.UseMyMetrics, 0, 0)},
	} {
		font := composed(t, at[host], []component{{flags: xy, index: at[base]}, c.part})
		path := filepath.Join(t.TempDir(), "composed.ttf")
		require.NoError(t, os.WriteFile(path, font, 0o600))
		parsed, err := face.Parse(font, 0)
		require.NoError(t, err, c.reason)
		f := parsed.(*face.TrueType)
		for _, p := range []glyph.PPEM{pixels(23), ppemsOf(203, 406, 8)[0]} {
			got, err := NewTrueType(f, p).Fit(at[host])
			require.NoError(t, err, c.reason)
			want := second.glyph(t, path, p, at[host])
			require.Empty(t, want.against(got), "%s, at %v", c.reason, p)
		}
		design, err := f.Design(at[host])
		require.NoError(t, err, c.reason)
		want := second.glyph(t, path, pixels(f.UPEM()), at[host])
		require.Len(t, design.Outline.Points, len(want.points), c.reason)
		for i, p := range design.Outline.Points {
			require.InDelta(t, want.points[i][0], int(p.X), 64, "%s: x of point %d", c.reason, i)
			require.InDelta(t, want.points[i][1], int(p.Y), 64, "%s: y of point %d", c.reason, i)
		}
	}
	font := composed(t, at[host], []component{{flags: xy, index: at[base]}, put(0, 200, 5)})
	parsed, err := face.Parse(font, 0)
	require.NoError(t, err)
	_, err = NewTrueType(parsed.(*face.TrueType), pixels(23)).Fit(at[host])
	require.ErrorContains(t, err, "is to meet point 5 at point 200, and one of them is missing")
	_, err = parsed.Design(at[host])
	require.ErrorContains(t, err, "is to meet point 5 at point 200, and one of them is missing")
}

// A program of a composite moves the end of the advance, the second point behind its own.
func TestACompositesProgramRunsOverInkAlone(t *testing.T) {
	second := buildPoints(t)
	sound, err := face.Parse(goregular.TTF, 0)
	require.NoError(t, err)
	at := map[rune]int{}
	for _, r := range sound.Refs() {
		at[r.Code] = r.Index
	}
	o, err := sound.(*face.TrueType).Glyph(at['o'])
	require.NoError(t, err)
	linear := glyph.Scale(sound.Advance(at['W']), pixels(23).X, sound.UPEM())
	for _, c := range []struct {
		reason string
		part   rune
		points int
		want   fixed.Int26_6 // advance
	}{
		{"a letter", 'o', len(o.X), (linear+32)&^63 + 64},
		{"a space: the program is left out", ' ', 0, linear},
	} {
		program := []byte{0x01, 0xB1, byte(c.points + 1), 64, 0x38} // SVTCA x, PUSHB, SHPIX
		font := composed(t, at['W'], []component{{flags: face.ArgsAreXY, index: at[c.part]}}, program...)
		path := filepath.Join(t.TempDir(), "composed.ttf")
		require.NoError(t, os.WriteFile(path, font, 0o600))
		parsed, err := face.Parse(font, 0)
		require.NoError(t, err)
		got, err := NewTrueType(parsed.(*face.TrueType), pixels(23)).Fit(at['W'])
		require.NoError(t, err, c.reason)
		require.NoError(t, got.Warning, c.reason)
		want := second.glyph(t, path, pixels(23), at['W'])
		require.Empty(t, want.against(got), c.reason)
		require.Equal(t, c.want, got.Advance, c.reason)
	}
}

// glyph is one glyph of a font as the second opinion has it.
func (s secondOpinion) glyph(t *testing.T, font string, p glyph.PPEM, index int) *outlined {
	t.Helper()
	dump, err := exec.Command(string(s), s.args(font, p)...).Output()
	require.NoError(t, err)
	in := numbers{rest: dump, t: t}
	require.Equal(t, 0x534D4F4B, in.next())
	require.Less(t, index, in.next())
	var out outlined
	for range index + 1 {
		in.glyph(&out)
	}
	return &out
}
