package face

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"regexp"
	"slices"
)

// isType1 tells a Type 1 program by its first bytes: a PFB segment, or the
// comment that every such program begins with.
func isType1(data []byte) bool {
	return bytes.HasPrefix(data, []byte{0x80, 1}) || bytes.HasPrefix(data, []byte("%!PS-AdobeFont")) || bytes.HasPrefix(data, []byte("%!FontType1"))
}

var eexec = regexp.MustCompile(`currentfile\s+eexec\s+`)

// splitType1 gives the two halves of a Type 1 program: what stands in the
// clear, and what stood behind eexec, decrypted.
func splitType1(data []byte) (clear, private []byte, err error) {
	data, err = joinSegments(data)
	if err != nil {
		return nil, nil, err
	}
	place := eexec.FindIndex(data)
	if place == nil {
		return nil, nil, fmt.Errorf("%w: no eexec; the file holds no Type 1 font or is cut short", ErrInvalid)
	}
	secret := data[place[1]:]
	if isHex(secret) {
		secret = fromHex(secret)
	}
	if len(secret) < eexecLead {
		return nil, nil, fmt.Errorf("%w: %d bytes behind eexec; the file is cut short", ErrInvalid, len(secret))
	}
	return data[:place[0]], decrypt(secret, eexecKey)[eexecLead:], nil
}

// Segment kinds of a PFB file (TN5040, section 3.3).
const (
	segmentMark = 0x80
	segmentEnd  = 3
)

// joinSegments takes the headers off a PFB file; another is as it should be.
func joinSegments(data []byte) ([]byte, error) {
	if data[0] != segmentMark {
		return data, nil
	}
	var joined []byte
	for at := 0; at+2 <= len(data) && data[at] == segmentMark && data[at+1] != segmentEnd; {
		if at+6 > len(data) {
			return nil, fmt.Errorf("%w: a segment's header at byte %d is cut short", ErrInvalid, at)
		}
		size := int(binary.LittleEndian.Uint32(data[at+2:]))
		at += 6
		if size > len(data)-at {
			return nil, fmt.Errorf("%w: the segment at byte %d has %d bytes of its %d; the file is cut short", ErrInvalid, at, len(data)-at, size)
		}
		joined = append(joined, data[at:at+size]...)
		at += size
	}
	return joined, nil
}

// isHex tells the two forms of an encrypted half apart: binary has a byte that
// is no hex digit among its first four (Type 1 book 7.2).
func isHex(b []byte) bool {
	if len(b) < 4 {
		return false
	}
	return !slices.ContainsFunc(b[:4], func(c byte) bool { return !isHexDigit(c) })
}

func isHexDigit(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}

// fromHex reads digits up to the first byte that is neither digit nor space.
func fromHex(b []byte) []byte {
	digits := make([]byte, 0, len(b))
	for _, c := range b {
		if isSpace(c) {
			continue
		}
		if !isHexDigit(c) {
			break
		}
		digits = append(digits, c)
	}
	out := make([]byte, len(digits)/2)
	_, _ = hex.Decode(out, digits[:len(out)*2])
	return out
}

// Keys of the two encryptions, and how many bytes eexec puts in front (Type 1
// book, chapter 7).
const (
	eexecKey      = 55665
	charstringKey = 4330
	eexecLead     = 4
)

// decrypt undoes Type 1 encryption. The bytes put in front are still there.
func decrypt(secret []byte, key uint16) []byte {
	plain := make([]byte, len(secret))
	for i, c := range secret {
		plain[i] = c ^ byte(key>>8)
		key = (uint16(c)+key)*52845 + 22719
	}
	return plain
}
