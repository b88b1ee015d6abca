package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// interrupt runs a command, presses Ctrl-C once its results or goldens have begun, and
// holds its exit status against the first argument.
func interrupt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: interrupt N command args...")
	}
	os.Setenv("PATH", ts.Getenv("PATH"))
	c := exec.Command(args[1], args[2:]...)
	c.Dir = ts.MkAbs(".")
	c.Env = append(os.Environ(), "HOME="+c.Dir)
	var stdout, stderr bytes.Buffer
	c.Stdout, c.Stderr = &stdout, &stderr
	ts.Check(c.Start())
	for end := time.Now().Add(time.Minute); ; time.Sleep(10 * time.Millisecond) {
		results, _ := filepath.Glob(filepath.Join(c.Dir, "out", ".new-*"))
		goldens, _ := filepath.Glob(filepath.Join(c.Dir, "golden", "*", "*", "*.bdf"))
		if len(results)+len(goldens) > 0 {
			break
		}
		if time.Now().After(end) {
			c.Process.Kill()
			ts.Fatalf("%s wrote nothing", args[1])
		}
	}
	ts.Check(c.Process.Signal(os.Interrupt))
	_ = c.Wait()
	if got := fmt.Sprint(c.ProcessState.ExitCode()); got != args[0] {
		ts.Fatalf("exit status %s, want %s; it said: %s", got, args[0], stderr.String())
	}
	ts.Check(os.WriteFile(ts.MkAbs("said"), stderr.Bytes(), 0o666))
	left, _ := filepath.Glob(filepath.Join(c.Dir, "out", ".*"))
	if len(left) > 0 {
		ts.Fatalf("left behind: %v", left)
	}
}
