package harness

import (
	"context"

	"smokeproof/golden"
	"smokeproof/harness/glyph"
)

// Standing is a glyph as approved at a size where nothing changed, beside
// sizes of the same device where something did.
type Standing struct {
	Face, Device, Size, Glyph string
	Picture                   Picture
}

// Standing reads, for every glyph that changed at some size, the goldens of the
// plan's other sizes on that device, in plan order: with them a ramp has no gaps.
func (p *Plan) Standing(ctx context.Context, res *Results) ([]Standing, error) {
	type family [3]string
	changed := map[family]map[string]bool{} // sizes at which a glyph is shown anyway
	touched := map[[2]string]bool{}
	for i := range res.Changes {
		c := &res.Changes[i]
		k := family{c.Face, c.Device, c.Glyph}
		if changed[k] == nil {
			changed[k] = map[string]bool{}
		}
		changed[k][c.Size] = true
		touched[[2]string{c.Face, c.Device}] = true
	}
	store := golden.Open(p.Goldens)
	var out []Standing
	for _, s := range p.strikes() {
		if !touched[[2]string{s.Face, s.Device}] {
			continue
		}
		approved, err := store.Load(ctx, s)
		if err != nil {
			return nil, err
		}
		for j := range approved.Cells {
			c := &approved.Cells[j]
			sizes := changed[family{s.Face, s.Device, string(c.Key)}]
			if sizes != nil && !sizes[s.Size.String()] {
				out = append(out, Standing{s.Face, s.Device, s.Size.String(), string(c.Key), *packPicture(c)})
			}
		}
	}
	return out, nil
}

// strikes lists what a plan stands for, in its order.
func (p *Plan) strikes() []glyph.Strike {
	var out []glyph.Strike
	for i := range p.Faces {
		for j := range p.Devices {
			d := &p.Devices[j]
			for _, size := range d.Sizes {
				out = append(out, glyph.Strike{Face: p.Faces[i].Name, Device: d.Name, Size: size, DPI: d.DPI, Mode: d.Mode})
			}
		}
	}
	return out
}
