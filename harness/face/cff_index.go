package face

import (
	"errors"
	"fmt"
)

// index is an INDEX of CFF: an array of objects of any length (TN5176, section 5).
type index struct {
	count   int
	size    int    // of an offset
	offsets []byte // count+1 of them
	data    []byte // objects; offset 1 is the first byte
}

// readIndex reads the INDEX at byte at and says where it ends. Nothing is
// allocated for what the file declares.
func readIndex(b []byte, at int, what string) (x index, end int, err error) {
	if at < 0 || at+2 > len(b) {
		return x, 0, fmt.Errorf("%w: CFF: the %s INDEX at byte %d is outside the table of %d bytes", ErrInvalid, what, at, len(b))
	}
	x.count = int(b[at])<<8 | int(b[at+1])
	if x.count == 0 {
		return x, at + 2, nil
	}
	if at+3 > len(b) {
		return x, 0, fmt.Errorf("%w: CFF: the %s INDEX at byte %d is cut short", ErrInvalid, what, at)
	}
	x.size = int(b[at+2])
	first := at + 3 + (x.count+1)*x.size
	if x.size < 1 || x.size > 4 || first > len(b) {
		return x, 0, fmt.Errorf("%w: CFF: the %s INDEX at byte %d declares %d objects with offsets of %d bytes, more than the table holds", ErrInvalid, what, at, x.count, x.size)
	}
	x.offsets = b[at+3 : first]
	last := x.offset(x.count)
	if last < 1 || last-1 > len(b)-first {
		return x, 0, fmt.Errorf("%w: CFF: the %s INDEX at byte %d reaches past the end of the table", ErrInvalid, what, at)
	}
	x.data = b[first : first+last-1]
	return x, first + last - 1, nil
}

func (x *index) offset(i int) int {
	v := 0
	for _, c := range x.offsets[i*x.size : (i+1)*x.size] {
		v = v<<8 | int(c)
	}
	return v
}

var errNoObject = errors.New("there is none of this number")

// get is one object.
func (x *index) get(i int) ([]byte, error) {
	if i < 0 || i >= x.count {
		return nil, errNoObject
	}
	from, to := x.offset(i)-1, x.offset(i+1)-1
	if from < 0 || to < from || to > len(x.data) {
		return nil, fmt.Errorf("its offsets %d and %d are out of order", from+1, to+1)
	}
	return x.data[from:to:to], nil
}
