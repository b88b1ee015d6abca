package golden

import (
	"encoding/binary"
	"errors"
)

// cursor reads numbers from bytes of a file nobody vouches for. Past the end it
// reads zeros and remembers that it did.
type cursor struct {
	data  []byte
	pos   int
	order binary.ByteOrder
	short bool
}

func (c *cursor) take(n int) []byte {
	if n < 0 || n > len(c.data)-c.pos {
		c.short = true
		c.pos = len(c.data)
		return make([]byte, min(max(n, 0), 8))
	}
	c.pos += n
	return c.data[c.pos-n : c.pos]
}

func (c *cursor) u8() int  { return int(c.take(1)[0]) }
func (c *cursor) s8() int  { return int(int8(c.take(1)[0])) }
func (c *cursor) u16() int { return int(c.order.Uint16(c.take(2))) }
func (c *cursor) s16() int { return int(int16(c.order.Uint16(c.take(2)))) }
func (c *cursor) u32() int { return int(c.order.Uint32(c.take(4))) }
func (c *cursor) s32() int { return int(int32(c.order.Uint32(c.take(4)))) }

// sub is a part of the data; an empty one that is short where there is no such part.
func (c *cursor) sub(from, n int) cursor {
	if from < 0 || n < 0 || from > len(c.data) || n > len(c.data)-from {
		return cursor{order: c.order, short: true}
	}
	return cursor{data: c.data[from : from+n], order: c.order}
}

func (c *cursor) end() error {
	if c.short {
		return errors.New("the table ends too early")
	}
	return nil
}
