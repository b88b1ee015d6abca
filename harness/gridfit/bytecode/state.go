package bytecode

// graphicsState is what instructions set for those after them (OpenType,
// "Graphics state"), with its defaults.
type graphicsState struct {
	rp               [3]int // reference points
	zp               [3]int // zone pointers: 0 twilight, 1 glyph
	proj, dual, free Vec    // 2.14
	loop             int32
	minDistance      F26Dot6
	cutIn            F26Dot6
	singleCutIn      F26Dot6
	singleWidth      F26Dot6
	autoFlip         bool
	deltaBase        int32
	deltaShift       int32
	instructControl  int32 // bit 0: glyph programs off; bit 1: they start from defaults
	scanControl      bool
	scanType         int32
	round            roundState
}

func defaultState() graphicsState {
	x := Vec{0x4000, 0}
	return graphicsState{
		zp: [3]int{1, 1, 1}, proj: x, dual: x, free: x, loop: 1,
		minDistance: 64, cutIn: 68, autoFlip: true, deltaBase: 9, deltaShift: 3,
	}
}

// afterPrep is what a glyph program starts from: the state that prep left,
// but for what belongs to one program.
func (g graphicsState) afterPrep() graphicsState {
	d := defaultState()
	g.rp, g.zp, g.proj, g.dual, g.free, g.loop, g.round = d.rp, d.zp, d.proj, d.dual, d.free, d.loop, d.round
	return g
}
