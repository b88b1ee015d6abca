//go:build unix

package infile

import "syscall"

const noWait = syscall.O_NONBLOCK
