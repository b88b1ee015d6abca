package golden

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func packed(t *testing.T, data []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := z.Write(data)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestAPackedDocumentIsUnpackedWholeOrRefused(t *testing.T) {
	const most = 1 << 16
	text := bytes.Repeat([]byte("BITMAP\n3C\n"), 700)
	saying := func(p []byte, size uint32) []byte {
		p = slices.Clone(p)
		binary.LittleEndian.PutUint32(p[len(p)-4:], size)
		return p
	}
	one := packed(t, text)
	for _, c := range []struct {
		reason string
		data   []byte
		want   []byte
		err    error
	}{
		{"one member", one, text, nil},
		{"two members, of which the last says its size alone", append(slices.Clone(one), packed(t, []byte("ENDFONT\n"))...), append(slices.Clone(text), "ENDFONT\n"...), nil},
		{"nothing", packed(t, nil), []byte{}, nil},
		{"as much as may be", packed(t, make([]byte, most)), make([]byte, most), nil},
		{"a byte more", packed(t, make([]byte, most+1)), nil, ErrUnsupported},
		{"more, in members that are each little", slices.Repeat(one, 10), nil, ErrUnsupported},
		{"a size that is a lie, too little", saying(one, 10), nil, ErrInvalid},
		{"too much", saying(one, uint32(len(text))+1), nil, ErrInvalid},
		{"absurdly much", saying(one, 1<<31), nil, ErrInvalid},
		{"a bomb that says it is little", saying(packed(t, make([]byte, most+1)), 7), nil, ErrUnsupported},
		{"cut short", one[:len(one)-9], nil, ErrInvalid},
		{"a few bytes", one[:3], nil, ErrInvalid},
		{"what Git LFS leaves in its place", []byte(pointerMagic + "v1\n"), nil, errPointer},
		{"other bytes behind it", append(slices.Clone(one), "more"...), nil, ErrInvalid},
	} {
		got, err := gunzip(c.data, most)
		require.ErrorIs(t, err, c.err, c.reason)
		require.Equal(t, c.want, got, c.reason)
	}
}

// What a file says of its size is believed, and memory made ready, no further than deflate can pack.
func TestTheClaimOfASmallFileIsNotBelieved(t *testing.T) {
	claim := func(length int, size uint32) []byte {
		return binary.LittleEndian.AppendUint32(make([]byte, length-4), size)
	}
	for _, c := range []struct {
		why  string
		data []byte
		want int
	}{
		{"no room for a claim", []byte{1, 2, 3}, 0},
		{"as much as deflate can pack", claim(100, 100*maxInflation), 100 * maxInflation},
		{"more than it can", claim(100, 100*maxInflation+1), 0},
		{"more than may be", claim(1<<16, maxUnpacked+1), 0},
	} {
		require.Equal(t, c.want, claimed(c.data, maxUnpacked), c.why)
	}
}

func TestABombCostsLittleMemory(t *testing.T) {
	const most = 32 << 20
	bomb := packed(t, make([]byte, 2*most))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := gunzip(bomb, most)
	runtime.ReadMemStats(&after)
	require.ErrorIs(t, err, ErrUnsupported)
	require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(most/8), "it is counted, not kept")
}
