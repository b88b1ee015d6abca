//go:build !unix

package render

import "os/exec"

// ownGroup does nothing: process groups are a notion of Unix.
func ownGroup(*exec.Cmd) {}

func killGroup(c *exec.Cmd) { c.Process.Kill() }
