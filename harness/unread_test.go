package harness

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAFolderThatCannotBeReadEndsTheRun(t *testing.T) {
	conflict := errors.New("git left a conflict here")
	var s Summary
	for range mostUnread {
		require.NoError(t, s.addUnread(conflict))
	}
	require.ErrorIs(t, s.addUnread(conflict), conflict, "not each strike of thousands is named")
	require.Len(t, s.Unread, mostUnread)
	require.EqualError(t, s.unreadError(), conflict.Error())
}
