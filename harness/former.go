package harness

import (
	"context"
	"encoding/hex"
	"strings"
	"sync"

	"smokeproof/golden"
	"smokeproof/harness/face"
	"smokeproof/harness/glyph"
)

// mostVersions is how many versions of a font git is asked for, to find the one that goldens were approved of.
const mostVersions = 32

// formerFonts are the fonts that goldens of a face were approved of, as git has them beside the font of now.
type formerFonts struct {
	mu   sync.Mutex
	met  map[string]bool           // digests of versions
	all  bool                      // every version was met
	held map[string]*face.Revision // by the digest that was asked for; nil where git has no such font
}

// former holds a face against the font of a digest, of which the start is given in hex; nil where git has it not.
func (r *Run) former(ctx context.Context, f *PlanFace, digest string) *face.Revision {
	found, _ := r.formers.LoadOrStore(f.Name, &formerFonts{met: map[string]bool{}, held: map[string]*face.Revision{}})
	fonts := found.(*formerFonts)
	fonts.mu.Lock()
	defer fonts.mu.Unlock()
	held, asked := fonts.held[digest]
	if asked {
		return held
	}
	if !fonts.all || fonts.met[digest] {
		held = r.find(ctx, f, digest, fonts)
	}
	fonts.held[digest] = held
	return held
}

func (r *Run) find(ctx context.Context, f *PlanFace, digest string, fonts *formerFonts) *face.Revision {
	var was face.Face
	err := golden.EachVersion(ctx, f.File, mostVersions, func(font []byte) bool {
		version, err := face.Parse(font, f.Index)
		if err != nil { // a pointer to a font, or one that was damaged
			return true
		}
		sum := version.Digest()
		is := hex.EncodeToString(sum[:])[:len(digest)]
		fonts.met[is] = true
		if is == digest {
			was = version
		}
		return was == nil
	})
	if err != nil || was == nil { // where there is no git, nothing is known
		fonts.all = true
		return nil
	}
	now, err := r.builtIn.Face(f.File, f.Index)
	if err != nil {
		return nil
	}
	return face.NewRevision(was, now)
}

// explain says of what changed in a strike why, where the font that the golden was approved of is in git. The
// cache knows nothing of it: what git has is no part of a strike.
func (r *Run) explain(ctx context.Context, f *PlanFace, s *StrikeResult) error {
	if s.Changed == 0 {
		return nil
	}
	sum := r.faces[f.Name].Digest()
	now := hex.EncodeToString(sum[:])
	fonts := map[string]*face.Revision{}
	for of := range s.tally().of {
		if !strings.HasPrefix(now, of) {
			if font := r.former(ctx, f, of); font != nil {
				fonts[of] = font
			}
		}
	}
	if len(fonts) == 0 {
		return nil
	}
	tell := func(c *Change) {
		font := fonts[c.ApprovedOf]
		if font == nil {
			return
		}
		ref := glyph.Ref{Key: glyph.Key(c.Glyph), Code: rune(c.Code), Index: c.Index}
		if why := font.Reason(ref); why != "" {
			c.Note = why
		}
		c.Bare = c.Bare && !font.SameHints(ref)
	}
	if s.pile == nil {
		for i := range s.Changes {
			tell(&s.Changes[i])
		}
		return nil
	}
	told := r.newPile()
	err := s.Each(func(c *Change) error {
		tell(c)
		told.add(c)
		return told.err
	})
	s.handedOn()
	s.pile = told
	if err != nil {
		return err
	}
	return told.close()
}
