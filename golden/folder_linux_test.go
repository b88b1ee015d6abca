package golden

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A file of /proc says that it has no bytes, as one does that grows while it is read.
func TestAFileThatIsLongerThanItSaysIsReadInTheCarefulWay(t *testing.T) {
	f, ok := openFolder("/proc/self")
	require.True(t, ok)
	defer f.Close()
	_, ok, _ = f.read("status", nil)
	require.False(t, ok)
	data, ok, err := f.read("no such file", nil)
	require.True(t, ok)
	require.Error(t, err)
	require.Empty(t, data)
}
