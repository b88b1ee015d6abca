package glyph

import (
	"crypto/sha256"
	"encoding/binary"
	"math/bits"
	"slices"
)

// Bitmap is a rectangle of samples on the device grid.
//
// The place is counted with Y growing up from the glyph's origin: Left is the
// column of the leftmost samples, Bottom the row of the lowest; pixel (x, y)
// covers the unit square from (x, y) to (x+1, y+1). The rows themselves are
// stored top to bottom, as a device prints them; this is where Y is flipped,
// once.
//
// A row is Stride machine words. Its leftmost sample stands in the most
// significant bits of the first word; bits past Width are zero.
type Bitmap struct {
	Width, Height int
	Left, Bottom  int
	Depth         int // bits per sample: 1, 2, 4 or 8
	Stride        int // words per row
	Words         []uint64
}

// NewBitmap returns an empty bitmap of the given size at the given place.
func NewBitmap(left, bottom, width, height, depth int) Bitmap {
	stride := (width*depth + 63) / 64
	return Bitmap{
		Width: width, Height: height, Left: left, Bottom: bottom,
		Depth: depth, Stride: stride, Words: make([]uint64, stride*height),
	}
}

// Top is the row just above the highest one.
func (b *Bitmap) Top() int { return b.Bottom + b.Height }

// Right is the column just right of the rightmost one.
func (b *Bitmap) Right() int { return b.Left + b.Width }

// Max is the value of full ink: 1, 3, 15 or 255.
func (b *Bitmap) Max() uint8 { return uint8(1<<b.Depth - 1) }

// Row returns the words of the i-th row from the top.
func (b *Bitmap) Row(i int) []uint64 { return b.Words[i*b.Stride : (i+1)*b.Stride] }

// At returns the sample of the device pixel (x, y), y up; outside the
// rectangle it is 0.
func (b *Bitmap) At(x, y int) uint8 {
	word, shift, ok := b.find(x, y)
	if !ok {
		return 0
	}
	return uint8(b.Words[word]>>shift) & b.Max()
}

// Set stores a sample at the device pixel (x, y), y up; outside the rectangle
// it does nothing.
func (b *Bitmap) Set(x, y int, v uint8) {
	word, shift, ok := b.find(x, y)
	if !ok {
		return
	}
	m := uint64(b.Max())
	b.Words[word] = b.Words[word]&^(m<<shift) | (uint64(v)&m)<<shift
}

func (b *Bitmap) find(x, y int) (word int, shift uint, ok bool) {
	col, row := x-b.Left, b.Top()-1-y
	if uint(col) >= uint(b.Width) || uint(row) >= uint(b.Height) {
		return 0, 0, false
	}
	bit := col * b.Depth
	return row*b.Stride + bit/64, uint(64 - b.Depth - bit%64), true
}

// Empty says that there is no ink at all.
func (b *Bitmap) Empty() bool {
	for _, w := range b.Words {
		if w != 0 {
			return false
		}
	}
	return true
}

// Ink counts the pixels that are not white.
func (b *Bitmap) Ink() int {
	n := 0
	if b.Depth == 1 {
		for _, w := range b.Words {
			n += bits.OnesCount64(w)
		}
		return n
	}
	for y := b.Bottom; y < b.Top(); y++ {
		for x := b.Left; x < b.Right(); x++ {
			if b.At(x, y) != 0 {
				n++
			}
		}
	}
	return n
}

// Tight returns the same ink in the smallest rectangle that holds it. A bitmap
// without ink becomes 0 × 0 at the origin. Tight bitmaps with the same ink in
// the same place are equal word for word. A bitmap that is tight already is
// returned as it is, sharing its words.
func (b *Bitmap) Tight() Bitmap {
	r := b.inkBox()
	if r.empty() {
		return Bitmap{Depth: b.Depth}
	}
	if r == (inkBox{0, b.Width, 0, b.Height}) {
		return *b
	}
	t := NewBitmap(b.Left+r.left, b.Top()-r.bottom, r.right-r.left, r.bottom-r.top, b.Depth)
	b.copyBox(&t, r)
	return t
}

// Trim makes b tight in the words that it has.
func (b *Bitmap) Trim() {
	r := b.inkBox()
	if r.empty() {
		*b = Bitmap{Depth: b.Depth, Words: b.Words[:0]}
		return
	}
	if r == (inkBox{0, b.Width, 0, b.Height}) {
		return
	}
	t := Bitmap{
		Width: r.right - r.left, Height: r.bottom - r.top, Left: b.Left + r.left, Bottom: b.Top() - r.bottom,
		Depth: b.Depth, Stride: ((r.right-r.left)*b.Depth + 63) / 64,
	}
	t.Words = b.Words[:t.Stride*t.Height]
	b.copyBox(&t, r) // a row is read before its place is written
	*b = t
}

// inkBox is where the ink is: columns left to right-1, rows from the top, top to
// bottom-1.
type inkBox struct{ left, right, top, bottom int }

func (r inkBox) empty() bool { return r.top == r.bottom }

func (b *Bitmap) inkBox() inkBox {
	top, bottom := 0, b.Height
	for top < bottom && rowEmpty(b.Row(top)) {
		top++
	}
	for bottom > top && rowEmpty(b.Row(bottom-1)) {
		bottom--
	}
	if top == bottom {
		return inkBox{}
	}
	r := inkBox{0, b.Width, top, bottom}
	first, w := 0, uint64(0)
	for ; w == 0; first++ {
		w = b.inkOfColumn(first, r)
	}
	first--
	r.left = (first*64 + bits.LeadingZeros64(w)) / b.Depth
	last := first // whose ink is w already
	for i := b.Stride - 1; i > first; i-- {
		if ink := b.inkOfColumn(i, r); ink != 0 {
			last, w = i, ink
			break
		}
	}
	r.right = (last*64+63-bits.TrailingZeros64(w))/b.Depth + 1
	return r
}

// inkOfColumn is the ink of all rows in the i-th column of words.
func (b *Bitmap) inkOfColumn(i int, r inkBox) (w uint64) {
	for k := r.top*b.Stride + i; k < r.bottom*b.Stride; k += b.Stride {
		w |= b.Words[k]
	}
	return w
}

func (b *Bitmap) copyBox(t *Bitmap, r inkBox) {
	for i := range t.Height {
		shiftRow(t.Row(i), b.Row(r.top+i), r.left*b.Depth)
	}
}

// Equal says that two bitmaps of one depth have the same ink in the same place,
// whatever their rectangles.
func (b *Bitmap) Equal(o *Bitmap) bool {
	s, t := b.Tight(), o.Tight()
	if s.Width != t.Width || s.Height != t.Height || s.Left != t.Left || s.Bottom != t.Bottom || s.Depth != t.Depth {
		return false
	}
	for i, w := range s.Words {
		if w != t.Words[i] {
			return false
		}
	}
	return true
}

func rowEmpty(row []uint64) bool {
	for _, w := range row {
		if w != 0 {
			return false
		}
	}
	return true
}

// shiftRow copies src, from the given bit on, to dst.
func shiftRow(dst, src []uint64, from int) {
	skip, sh := from/64, uint(from%64)
	for i := range dst {
		var w uint64
		if j := skip + i; j < len(src) {
			w = src[j] << sh
			if sh != 0 && j+1 < len(src) {
				w |= src[j+1] >> (64 - sh)
			}
		}
		dst[i] = w
	}
}

// Digest is a SHA-256 over the depth, place and size of the tight bitmap, the advance, and the
// bitmap's rows from the top: what an approval signs. A row is whole bytes, the leftmost pixel in the highest
// bits of the first; a number is a varint as encoding/binary writes it.
func (c *Cell) Digest() [sha256.Size]byte {
	tight := Cell{Advance: c.Advance, Bitmap: c.Bitmap.Tight()}
	var room [1024]byte // holds most glyphs
	return sha256.Sum256(tight.AppendSigned(room[:0]))
}

// AppendSigned appends what Digest is taken over, for a cell whose bitmap is tight.
func (c *Cell) AppendSigned(p []byte) []byte {
	t := &c.Bitmap
	for _, v := range [...]int{t.Depth, t.Left, t.Bottom, t.Width, t.Height, c.Advance} {
		p = binary.AppendVarint(p, int64(v))
	}
	row, at := (t.Width*t.Depth+7)/8, len(p)
	end := at + row*t.Height
	p = slices.Grow(p, end+8-at)[:end+8] // the last word of a row is written whole
	if t.Stride == 1 {                   // as most are: in half the time
		for _, w := range t.Words {
			binary.BigEndian.PutUint64(p[at:], w)
			at += row
		}
		return p[:end]
	}
	for y := range t.Height {
		for i, w := range t.Row(y) {
			binary.BigEndian.PutUint64(p[at+8*i:], w)
		}
		at += row
	}
	return p[:end]
}
