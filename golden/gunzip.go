package golden

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"io"
)

// maxUnpacked bounds what a packed document holds, in bytes: a CJK strike at
// printer resolution is under 200 MiB, and a megabyte can unpack to a gigabyte.
const maxUnpacked = 1 << 28

// gunzip unpacks at most some bytes, into memory of that size and no more: the file
// says how many it has, and where that is not so they are counted first.
func gunzip(data []byte, most int) ([]byte, error) {
	if bytes.HasPrefix(data, []byte(pointerMagic)) {
		return nil, fmt.Errorf("%w: %w", ErrInvalid, errPointer)
	}
	out, whole, err := inflated(data, make([]byte, claimed(data, most)))
	if err == nil && !whole {
		var n int64
		if n, err = unpackedSize(data, most); n > int64(most) {
			return nil, fmt.Errorf("%w: gzip: more than %d bytes when unpacked; unpack the file", ErrUnsupported, most)
		}
		if err == nil {
			out, _, err = inflated(data, make([]byte, n))
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%w: gzip: %w", ErrInvalid, err)
	}
	return out, nil
}

// claimed is the size that stands at the end of a file of one member (RFC 1952,
// ISIZE), or 0 where it cannot be so.
func claimed(data []byte, most int) int {
	if len(data) < 4 {
		return 0
	}
	n := int64(binary.LittleEndian.Uint32(data[len(data)-4:]))
	if n > int64(most) || n > maxInflation*int64(len(data)) {
		return 0
	}
	return int(n)
}

// inflated fills out, and says whether that was all there is.
func inflated(data, out []byte) (filled []byte, whole bool, err error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, false, err
	}
	if _, err := io.ReadFull(z, out); err != nil {
		return nil, false, err
	}
	switch _, err := io.ReadFull(z, make([]byte, 1)); err {
	case io.EOF: // checksum and size were right
		return out, true, nil
	case nil:
		return nil, false, nil
	default:
		return nil, false, err
	}
}

// unpackedSize counts, to one past the most.
func unpackedSize(data []byte, most int) (int64, error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return 0, err
	}
	return io.Copy(io.Discard, io.LimitReader(z, int64(most)+1))
}
