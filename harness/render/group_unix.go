//go:build unix

package render

import (
	"os/exec"
	"syscall"
)

// ownGroup puts a process in a group of its own, so that what it starts can be
// ended with it.
func ownGroup(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

func killGroup(c *exec.Cmd) { syscall.Kill(-c.Process.Pid, syscall.SIGKILL) }
