package harness

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAnAuditDrawsWhatIsRemembered(t *testing.T) {
	d := newDesk(t)
	want, text, _ := d.check(t, d.cache)
	d.audit = 1
	got, again, drawn := d.check(t, d.cache)
	require.Equal(t, want, got)
	require.Equal(t, text, again)
	require.Equal(t, want.Glyphs, drawn)
}

func TestAnAuditHoldsChangesToo(t *testing.T) {
	d := newDesk(t)
	d.write(t, deskFont, withoutFpgm(larkmoor(t)))
	_, _, drawn := d.check(t, d.cache)
	require.Positive(t, drawn)
	want, text, _ := d.check(t, "")
	d.audit = 1
	got, again, drawn := d.check(t, d.cache)
	require.Equal(t, want, got)
	require.Equal(t, text, again)
	require.Equal(t, want.Glyphs, drawn)
}

// An entry that tells a lie, well formed and under its right name.
func TestAnAuditFindsAWrongEntry(t *testing.T) {
	for _, c := range []struct {
		why  string
		lie  func(*entry)
		says string
	}{
		{"a change was lost", func(e *entry) { e.Record.Changed--; e.Record.Equal++; e.Changes = e.Changes[1:] }, "changed, 0 new, 0 missing, 0 undrawn remembered"},
		{"a change is another", func(e *entry) { e.Changes[0].Findings[0].Text += "!" }, "as many equal and changed glyphs, but other changes"},
	} {
		t.Run(c.why, func(t *testing.T) {
			d := newDesk(t)
			d.write(t, deskFont, withoutFpgm(larkmoor(t)))
			_, _, drawn := d.check(t, d.cache)
			require.Positive(t, drawn)
			d.opened = func(r *Run) {
				s := &r.strikes[0]
				files, ok := r.cache.files.of(r.Store, s.Strike)
				require.True(t, ok)
				key := r.strikeKey(s, r.known[s.Face.Name], files)
				e := r.cache.loadEntry(key)
				require.NotNil(t, e)
				c.lie(e)
				r.cache.storeEntry(key, e.Parts, &StrikeResult{StrikeRecord: e.Record, Changes: e.Changes})
			}
			_, _, drawn = d.check(t, d.cache)
			require.Zero(t, drawn, "without an audit the lie is believed")
			p, err := LoadPlan(d.plan)
			require.NoError(t, err)
			r, err := Open(context.Background(), p, Options{Cache: d.cache, Audit: 1})
			require.NoError(t, err)
			defer r.Close()
			sum, err := r.Check(context.Background(), func(*StrikeResult) error { return nil })
			require.ErrorContains(t, err, "comes to something else than is remembered")
			require.ErrorContains(t, err, c.says)
			require.Equal(t, ExitIncomplete, sum.Exit)
		})
	}
}
