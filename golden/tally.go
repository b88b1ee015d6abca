package golden

import (
	"encoding/base64"
	"errors"
)

// tally is a sum of digests, modulo 2^96: it does not depend on their order, so
// that branches of decisions add up whichever way git merges them.
type tally [mark]byte

func (t tally) plus(o tally) tally {
	carry := 0
	for i := mark - 1; i >= 0; i-- {
		carry += int(t[i]) + int(o[i])
		t[i] = byte(carry)
		carry >>= 8
	}
	return t
}

func (t tally) minus(o tally) tally {
	borrow := 0
	for i := mark - 1; i >= 0; i-- {
		borrow += int(t[i]) - int(o[i])
		t[i] = byte(borrow)
		borrow >>= 8
	}
	return t
}

func (t tally) String() string { return base64.RawURLEncoding.EncodeToString(t[:]) }

func parseTally(s string) (t tally, err error) {
	raw, err := base64.RawURLEncoding.Strict().DecodeString(s)
	if err != nil || len(raw) != mark {
		return t, errors.New("is no digest")
	}
	return tally(raw), nil
}
