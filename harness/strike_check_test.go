package harness

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// alikeDevices are devices of which some draw the demo face, which has whole ppem, alike: three of
// them with the label at 25 ppem, two at 50. The last two differ in fill and in mode.
const alikeDevices = `
[[device]]
name = "receipt"
dpi = 203
sizes = [9, 7]
[[device]]
name = "laser"
dpi = 300
sizes = [6, 12]
[[device]]
name = "photo"
dpi = 600
sizes = [6, 7]
[[device]]
name = "inside"
dpi = 301
fill = "inside"
sizes = [6]
[[device]]
name = "panel"
dpi = "300.5"
mode = "grey"
sizes = [6]
`

// deskOfAlike has ten strikes, of which seven are drawn; by one worker, as of two each may
// have begun one of a pair before the other takes it.
func deskOfAlike(t *testing.T) (d *desk, oneStrike int) {
	d = newDesk(t)
	d.workers = 1
	sum, _, _ := d.check(t, "")
	d.replace(t, PlanName, "sizes = [8]", "sizes = [8, 9]")
	d.write(t, PlanName, append(d.read(t, PlanName), alikeDevices...))
	approveAll(t, d.plan)
	return d, sum.Glyphs
}

func TestStrikesDrawnAlikeAreDrawnOnce(t *testing.T) {
	d, one := deskOfAlike(t)
	sum, _, drawn := d.check(t, "")
	require.Equal(t, 10*one, sum.Glyphs)
	require.Equal(t, 10*one, sum.Equal)
	require.Equal(t, 7*one, drawn)
}

// What the strikes come to is what each comes to in a run of its own, whatever the cache
// knows of them.
func TestStrikesDrawnAlikeAreHeldEachAgainstItsGoldens(t *testing.T) {
	d, one := deskOfAlike(t)
	d.holds(t)
	for _, c := range []struct {
		name   string
		change func()
		drawn  int // strikes
	}{
		{"a golden of one", func() { d.replace(t, "golden/face/300/6.bdf", "BITMAP\n3", "BITMAP\n7") }, 1},
		{"goldens of two", func() {
			d.replace(t, "golden/face/203/9.bdf", "BITMAP\n3", "BITMAP\n7")
			d.replace(t, "golden/face/600/6.bdf", "DWIDTH 1", "DWIDTH 2")
		}, 2},
		{"the face", func() { d.write(t, deskFont, withoutFpgm(larkmoor(t))) }, 7},
	} {
		c.change()
		drawn, _ := d.holds(t)
		require.Equal(t, c.drawn*one, drawn, c.name)

		d.workers = 2
		_, together, _ := d.check(t, "")
		d.workers = 1
		apart := ""
		p, err := LoadPlan(d.plan)
		require.NoError(t, err)
		for i := range p.Devices {
			for _, size := range p.Devices[i].Sizes {
				d.filter.Devices, d.filter.Sizes = []string{p.Devices[i].Name}, nil
				d.filter.Sizes = append(d.filter.Sizes, size)
				_, one, _ := d.check(t, "")
				apart += one[1:len(one)-1] + ","
			}
		}
		d.filter = Filter{}
		require.Equal(t, together, "["+apart[:len(apart)-1]+"]", c.name)
	}
}

// A bitmap that is drawn again pixel for pixel is new all the same where nobody approved it.
func TestAGoldenThatNobodyApprovedIsNotEqual(t *testing.T) {
	d := newDesk(t)
	approveAll(t, d.plan)
	sum, _, _ := d.check(t, "")
	require.Equal(t, sum.Glyphs, sum.Equal)
	paths, err := filepath.Glob(filepath.Join(d.dir, "golden", "*", "*", "*.approvals"))
	require.NoError(t, err)
	require.Len(t, paths, sum.Strikes)
	for _, path := range paths {
		require.NoError(t, os.Remove(path))
	}
	sum, _, _ = d.check(t, "")
	require.Equal(t, sum.Glyphs, sum.New)
}
