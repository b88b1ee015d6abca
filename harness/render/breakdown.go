package render

import (
	"fmt"
	"runtime/debug"
)

// Breakdown is a panic of the built-in renderer, or of the judgement, inside one
// glyph: our fault, not the font's. It costs that glyph alone.
type Breakdown struct {
	Cause string
	Stack string // where it happened, many lines
}

func (b *Breakdown) Error() string {
	return fmt.Sprintf("this program broke down: %s; please report it", b.Cause)
}

// BrokeDown is to be called where the panic is recovered.
func BrokeDown(cause any) error {
	return &Breakdown{Cause: fmt.Sprint(cause), Stack: string(debug.Stack())}
}
