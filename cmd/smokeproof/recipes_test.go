package main

import (
	"fmt"
	"os"
	"os/exec"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
	"go.yaml.in/yaml/v3"
)

// indexedJob is what a Kubernetes Indexed Job is read for here. Its pods have their
// index, from 0, in JOB_COMPLETION_INDEX; counting failures by index asks for pods
// that are never started again in place. (Kubernetes documentation, Jobs: completion
// mode, backoff limit per index.)
type indexedJob struct {
	APIVersion string `yaml:"apiVersion"`
	Kind       string
	Spec       struct {
		CompletionMode       string `yaml:"completionMode"`
		Completions          int
		BackoffLimitPerIndex int `yaml:"backoffLimitPerIndex"`
		Template             struct {
			Spec struct {
				RestartPolicy string `yaml:"restartPolicy"`
				Containers    []struct{ Command []string }
			}
		}
	}
}

// indexed runs every pod of a Kubernetes manifest, one after the other.
func indexed(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: indexed MANIFEST")
	}
	var job indexedJob
	ts.Check(yaml.Unmarshal([]byte(ts.ReadFile(args[0])), &job))
	s := &job.Spec
	if job.APIVersion != "batch/v1" || job.Kind != "Job" || s.CompletionMode != "Indexed" ||
		s.BackoffLimitPerIndex == 0 || s.Template.Spec.RestartPolicy != "Never" || len(s.Template.Spec.Containers) != 1 {
		ts.Fatalf("%s is no Indexed Job whose pods are tried again: %+v", args[0], job)
	}
	for i := range s.Completions {
		inEngine(ts, 0, s.Template.Spec.Containers[0].Command, fmt.Sprintf("JOB_COMPLETION_INDEX=%d", i))
	}
}

// matrix runs every job of a CI file, one after the other. CI_NODE_INDEX counts
// from 1.
func matrix(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: matrix FILE")
	}
	var file map[string]yaml.Node
	ts.Check(yaml.Unmarshal([]byte(ts.ReadFile(args[0])), &file))
	var stages []string
	node := file["stages"]
	ts.Check(node.Decode(&stages))
	for n, stage := range stages {
		ran, status := false, 0
		if n == len(stages)-1 {
			status = 1 // what gather found
		}
		for name, node := range file {
			var job struct {
				Stage    string
				Parallel int
				Script   []string
			}
			if name == "stages" {
				continue
			}
			ts.Check(node.Decode(&job))
			if job.Stage != stage {
				continue
			}
			ran = true
			for i := range max(job.Parallel, 1) {
				inEngine(ts, status, []string{"sh", "-ec", strings.Join(job.Script, "\n")},
					fmt.Sprintf("CI_NODE_INDEX=%d", i+1), fmt.Sprintf("CI_NODE_TOTAL=%d", max(job.Parallel, 1)))
			}
		}
		if !ran {
			ts.Fatalf("%s: no job of stage %q", args[0], stage)
		}
	}
}

// inEngine runs a command as an engine of jobs would, and holds its exit status
// against the one expected.
func inEngine(ts *testscript.TestScript, status int, command []string, env ...string) {
	os.Setenv("PATH", ts.Getenv("PATH"))
	c := exec.Command(command[0], command[1:]...)
	c.Dir = ts.MkAbs(".")
	c.Env = append(append(os.Environ(), "HOME="+c.Dir), env...)
	out, err := c.CombinedOutput()
	if c.ProcessState == nil || c.ProcessState.ExitCode() != status {
		ts.Fatalf("%v: %v, want exit status %d: %s", env, err, status, out)
	}
}
