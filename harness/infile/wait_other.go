//go:build !unix

package infile

const noWait = 0
