package harness

import (
	"fmt"
	"strconv"
)

// jobArray is how an engine numbers the jobs of an array: the variables of the
// index, of the first index and the step, and of the count.
type jobArray struct {
	index, first, step, count string
	from                      int // the first index where no variable tells it
}

var jobArrays = []jobArray{
	{index: "SLURM_ARRAY_TASK_ID", first: "SLURM_ARRAY_TASK_MIN", step: "SLURM_ARRAY_TASK_STEP", count: "SLURM_ARRAY_TASK_COUNT"},
	{index: "JOB_COMPLETION_INDEX"}, // Kubernetes Indexed Job; it does not tell how many there are
	{index: "CI_NODE_INDEX", count: "CI_NODE_TOTAL", from: 1},
	{index: "PARALLEL_SEQ", from: 1}, // GNU parallel
}

// arrayShard finds this job's place in its array. count is 0 where the
// environment is to tell.
func arrayShard(count int, env func(string) string) (Shard, error) {
	for _, a := range jobArrays {
		if env(a.index) == "" {
			continue
		}
		var err error
		number := func(name string, otherwise int) int {
			if env(name) == "" {
				return otherwise
			}
			n, bad := strconv.Atoi(env(name))
			if bad != nil {
				err = fmt.Errorf("%s=%q is no number", name, env(name))
			}
			return n
		}
		at, from, step := number(a.index, 0), number(a.first, a.from), number(a.step, 1)
		have := number(a.count, count)
		switch {
		case err != nil:
			return Shard{}, err
		case have == 0:
			return Shard{}, fmt.Errorf("%s comes without a count", a.index)
		case count != 0 && have != count:
			return Shard{}, fmt.Errorf("the array has %d jobs, not %d", have, count)
		}
		return Shard{(at-from)/max(step, 1) + 1, have}, nil
	}
	return Shard{}, fmt.Errorf("the environment tells of no job array")
}
