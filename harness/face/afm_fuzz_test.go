package face

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/math/fixed"
)

func FuzzAFM(f *testing.F) {
	f.Add([]byte(afmTrial))
	f.Add([]byte("StartFontMetrics 4.1\nCH <41> ; W0X 1e3 ; N A ;\nC 66 ; WX -0x1p4 ; N B ;\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		advances, err := readAFM(data)
		if err != nil {
			require.ErrorIs(t, err, ErrInvalid)
			return
		}
		require.LessOrEqual(t, len(advances), len(data), "no more than the file can hold")
		for name, a := range advances {
			require.NotEmpty(t, name)
			require.Less(t, max(a, -a), fixed.I(1<<15))
		}
	})
}
