package harness

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
)

func TestShardsAreNamedOrTakenFromAJobArray(t *testing.T) {
	for _, c := range []struct {
		text, env string
		want      Shard
		reason    string
	}{
		{"3/8", "", Shard{3, 8}, "as named"},
		{"1/1", "", Shard{1, 1}, "one shard is all"},
		{"array", "SLURM_ARRAY_TASK_ID=7 SLURM_ARRAY_TASK_MIN=3 SLURM_ARRAY_TASK_STEP=2 SLURM_ARRAY_TASK_COUNT=4", Shard{3, 4}, "a Slurm array 3-9:2"},
		{"/4", "SLURM_ARRAY_TASK_ID=0 SLURM_ARRAY_TASK_MIN=0 SLURM_ARRAY_TASK_COUNT=4", Shard{1, 4}, "the counts agree"},
		{"/5", "JOB_COMPLETION_INDEX=4", Shard{5, 5}, "Kubernetes counts from 0"},
		{"array", "CI_NODE_INDEX=2 CI_NODE_TOTAL=3", Shard{2, 3}, "a CI counts from 1"},
		{"/6", "PARALLEL_SEQ=6", Shard{6, 6}, "GNU parallel counts from 1"},
		{"0/8", "", Shard{}, "K counts from 1"},
		{"9/8", "", Shard{}, "past the last"},
		{"3", "", Shard{}, "no count"},
		{"a/b", "", Shard{}, "no numbers"},
		{"array", "", Shard{}, "no array"},
		{"array", "JOB_COMPLETION_INDEX=4", Shard{}, "nobody tells the count"},
		{"/5", "SLURM_ARRAY_TASK_ID=1 SLURM_ARRAY_TASK_MIN=1 SLURM_ARRAY_TASK_COUNT=4", Shard{}, "the counts disagree"},
		{"/5", "JOB_COMPLETION_INDEX=5", Shard{}, "more jobs than shards"},
		{"/5", "JOB_COMPLETION_INDEX=x", Shard{}, "an index that is no number"},
	} {
		t.Run(c.reason, func(t *testing.T) {
			env := map[string]string{}
			for _, kv := range strings.Fields(c.env) {
				k, v, _ := strings.Cut(kv, "=")
				env[k] = v
			}
			got, err := ParseShard(c.text, func(k string) string { return env[k] })
			require.Equal(t, c.want, got)
			require.Equal(t, c.want == Shard{}, err != nil, "%v", err)
		})
	}
}

func TestShardsShareCostsAndNotCounts(t *testing.T) {
	costs := []int64{900, 10, 20, 300, 300, 300, 5, 5, 40, 20}
	drawings := make([][]StrikeJob, len(costs))
	for i := range drawings {
		drawings[i] = []StrikeJob{{place: i}}
	}
	cost := func(s *StrikeJob) int64 { return costs[s.place] }
	seen := map[int]int{}
	for k := 1; k <= 2; k++ {
		sum := int64(0)
		last := -1
		for _, s := range (Shard{k, 2}).of(drawings, cost) {
			require.Greater(t, s.place, last, "in plan order")
			last = s.place
			seen[s.place]++
			sum += cost(&s)
		}
		require.InDelta(t, 950, sum, 5)
	}
	for i := range costs {
		require.Equal(t, 1, seen[i], "strike %d belongs to one shard", i)
	}
	require.Empty(t, Shard{11, 11}.of(drawings, cost), "more shards than strikes leave some without work")
}

func TestStrikesDrawnAlikeBelongToOneShardAndCountForLess(t *testing.T) {
	cost := func(s *StrikeJob) int64 { return []int64{600, 600, 600, 600, 800}[s.place] }
	drawings := [][]StrikeJob{{{place: 0}, {place: 2}, {place: 3}}, {{place: 1}}, {{place: 4}}} // 800, 600, 800
	var places [][]int
	for k := 1; k <= 2; k++ {
		var its []int
		for _, s := range (Shard{k, 2}).of(drawings, cost) {
			its = append(its, s.place)
		}
		places = append(places, its)
	}
	require.Equal(t, [][]int{{0, 1, 2, 3}, {4}}, places)

	d, one := deskOfAlike(t)
	p, err := LoadPlan(d.plan)
	require.NoError(t, err)
	drawn, strikes := 0, 0
	for k := 1; k <= 3; k++ {
		r, err := Open(t.Context(), p, Options{Shard: Shard{k, 3}, Workers: 1})
		require.NoError(t, err)
		_, err = r.Check(t.Context(), func(*StrikeResult) error { strikes++; return nil })
		require.NoError(t, err)
		require.NoError(t, r.Close())
		drawn += r.Drawn()
	}
	require.Equal(t, [2]int{10, 7 * one}, [2]int{strikes, drawn}, "as in one run")
}

// sharded is a plan of twelve strikes with findings in it.
func sharded(t *testing.T) string {
	faces := map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "mono": gomono.TTF}
	plan := facesIn(t, faces)
	text, err := os.ReadFile(plan)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(plan, []byte(strings.ReplaceAll(string(text), "[8]", "[7, 12]")), 0o666))
	approveAll(t, plan)
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(plan), "mono.ttf"), withoutFpgm(gomono.TTF), 0o666))
	return plan
}

// checkInto writes a run's results to a folder.
func checkInto(t *testing.T, plan, dir string, o Options) {
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, o)
	require.NoError(t, err)
	defer r.Close()
	w, err := NewResultsWriter(dir, r.Header("a test"))
	require.NoError(t, err)
	sum, err := r.Check(context.Background(), w.Strike)
	require.NoError(t, err)
	require.NoError(t, w.Close(sum))
}

func TestGatherGivesWhatOneRunGivesByteForByte(t *testing.T) {
	plan, out := sharded(t), t.TempDir()
	checkInto(t, plan, filepath.Join(out, "whole"), Options{})
	want, err := os.ReadFile(filepath.Join(out, "whole", ResultsName))
	require.NoError(t, err)
	require.Greater(t, len(want), 50_000, "there is something to join")
	for _, n := range []int{1, 3, 5, 14} {
		var dirs []string
		for k := n; k >= 1; k-- { // in any order
			dir := filepath.Join(out, fmt.Sprintf("%d-of-%d", k, n))
			checkInto(t, plan, dir, Options{Shard: Shard{k, n}})
			dirs = append(dirs, dir)
		}
		sum, err := Gather(dirs, filepath.Join(out, "joined"))
		require.NoError(t, err)
		require.Equal(t, ExitFindings, sum.Exit)
		got, err := os.ReadFile(filepath.Join(out, "joined", ResultsName))
		require.NoError(t, err)
		require.Equal(t, string(want), string(got), "%d shards", n)
	}
}

func TestGatherRefusesPartsThatDoNotMakeAWhole(t *testing.T) {
	plan, out := sharded(t), t.TempDir()
	dir := func(name string) string { return filepath.Join(out, name) }
	for k := 1; k <= 3; k++ {
		checkInto(t, plan, dir(fmt.Sprint(k)), Options{Shard: Shard{k, 3}})
	}
	checkInto(t, plan, dir("2 again"), Options{Shard: Shard{2, 3}})
	checkInto(t, plan, dir("whole"), Options{})
	checkInto(t, plan, dir("2/2"), Options{Shard: Shard{2, 2}})
	small, err := ParseSelection("A")
	require.NoError(t, err)
	checkInto(t, plan, dir("other glyphs"), Options{Shard: Shard{3, 3}, Filter: Filter{Glyphs: small}})
	breakOff(t, plan, dir("broken off"), Shard{3, 3})
	require.NoError(t, os.MkdirAll(dir("dead"), 0o777))
	cut, err := os.ReadFile(filepath.Join(dir("3"), ResultsName))
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(dir("cut"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir("cut"), ResultsName), cut[:len(cut)/2], 0o666))

	hostile := func(name, of, from, to string) {
		require.NoError(t, os.MkdirAll(dir(name), 0o777))
		b, err := os.ReadFile(filepath.Join(dir(of), ResultsName))
		require.NoError(t, err)
		require.Regexp(t, from, string(b))
		first := regexp.MustCompile("(?s)^(.*?)" + from)
		require.NoError(t, os.WriteFile(filepath.Join(dir(name), ResultsName), first.ReplaceAll(b, []byte("${1}"+to)), 0o666))
	}
	hostile("of a billion", "1", `"count":3`, `"count":1000000000000`)
	hostile("of none", "1", `"index":1,"count":3`, `"index":0,"count":-1`)
	hostile("of a place twice", "1", `"strikes":\[(\d+),\d+`, `"strikes":[$2,$2`)
	hostile("of fewer changes", "3", `"changed":[1-9]\d*`, `"changed":1`)
	hostile("of more changes", "3", `"changed":[1-9]`, `"changed":99`)
	hostile("of fewer strikes", "3", `"strikes":\[{[^}]*},`, `"strikes":[`)
	hostile("of a torn line", "3", `\n{"face":"mono"`, "\n{\"face\":mono\"")
	hostile("of another version", "1", `"version":1`, `"version":2`)
	require.NoError(t, os.MkdirAll(dir("endless"), 0o777))
	require.NoError(t, os.Symlink("/dev/zero", filepath.Join(dir("endless"), ResultsName)))

	for _, c := range []struct {
		dirs   []string
		says   string
		reason string
	}{
		{nil, "no parts", "nothing named"},
		{[]string{"1", "2"}, "shard 3/3 is missing", "one is missing"},
		{[]string{"1"}, "shard 2/3 is missing", "two are missing"},
		{[]string{"1", "2", "2 again", "3"}, "both are shard 2/3", "one is doubled"},
		{[]string{"1", "2", "whole"}, "no part of a sharded run", "a whole run among parts"},
		{[]string{"1", "2/2"}, "parts of two runs", "another number of shards"},
		{[]string{"1", "2", "other glyphs"}, "parts of two runs", "another selection"},
		{[]string{"1", "2", "broken off"}, "shard 3/3 was broken off", "a part that was interrupted"},
		{[]string{"1", "2", "dead"}, "no such file", "a part that died"},
		{[]string{"1", "2", "cut"}, "not as check writes them", "a part cut short on its way"},
		{[]string{"of a billion"}, "out of range", "a count that would be listed shard by shard"},
		{[]string{"of none"}, "out of range", "a count below nothing"},
		{[]string{"of a place twice", "2", "3"}, "is in no shard", "a strike that no part has"},
		{[]string{"1", "2", "of fewer strikes"}, "shard 3/3 was broken off", "strikes that the header names and nobody counts"},
		{[]string{"1", "2", "of fewer changes"}, "not as check writes them", "changes that no strike counts"},
		{[]string{"1", "2", "of more changes"}, "not as check writes them", "changes that a strike counts and the file does not have"},
		{[]string{"1", "2", "of a torn line"}, "not as check writes them", "a change that is no JSON"},
		{[]string{"of another version"}, "version 2, this program reads 1", "a part of another program"},
		{[]string{"endless"}, "no regular file", "a link to a device without end"},
	} {
		t.Run(c.reason, func(t *testing.T) {
			var dirs []string
			for _, d := range c.dirs {
				dirs = append(dirs, dir(d))
			}
			_, err := Gather(dirs, dir("joined"))
			require.ErrorContains(t, err, c.says)
			left, _ := os.ReadDir(dir("joined"))
			require.Empty(t, left, "nothing half-written stays behind")
		})
	}
	_, err = Gather([]string{dir("1"), dir("2"), dir("3")}, dir("joined"))
	require.NoError(t, err, "run again, the dead shard's part counts once")
}

// breakOff stops a run after its first strike, as Ctrl-C does.
func breakOff(t *testing.T, plan, dir string, s Shard) {
	p, err := LoadPlan(plan)
	require.NoError(t, err)
	r, err := Open(context.Background(), p, Options{Shard: s})
	require.NoError(t, err)
	defer r.Close()
	w, err := NewResultsWriter(dir, r.Header("a test"))
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	sum, err := r.Check(ctx, func(s *StrikeResult) error { cancel(); return w.Strike(s) })
	require.ErrorIs(t, err, context.Canceled)
	require.True(t, sum.Partial)
	require.NoError(t, w.Close(sum))
}

func takeNone(*Results, *Change) bool { return false }

func findingsOf(t *testing.T, r *Results) (all []Finding) {
	require.NoError(t, r.EachFinding(func(f *Finding) error {
		all = append(all, *f)
		return nil
	}))
	return all
}

func TestFindingsAreReadAsAStream(t *testing.T) {
	plan, out := sharded(t), t.TempDir()
	checkInto(t, plan, out, Options{})
	path := filepath.Join(out, ResultsName)
	all, err := ReadResults(path)
	require.NoError(t, err)
	some, err := ReadFindings(path, takeNone)
	require.NoError(t, err)
	require.Equal(t, findingsOf(t, all), findingsOf(t, some))
	require.NotEmpty(t, findingsOf(t, some))
	sizes, err := ReadFindings(path, func(res *Results, c *Change) bool { return c.Size == res.Strikes[0].Size })
	require.NoError(t, err)
	require.NotEmpty(t, sizes.Changes)
	for i := range sizes.Changes {
		require.NotEqual(t, sizes.Strikes[0].Size, sizes.Changes[i].Size, "what is taken is not kept")
	}
	require.Equal(t, findingsOf(t, all), findingsOf(t, sizes), "and given all the same")
	require.Equal(t, all.Summary, some.Summary)
	require.Equal(t, all.Strikes, some.Strikes)
	require.Equal(t, all.Header, some.Header)
	n := 0
	require.NoError(t, some.Each(func(c *Change) error {
		require.Equal(t, &all.Changes[n], c)
		n++
		return nil
	}))
	require.Equal(t, len(all.Changes), n)

	kept := some.blankAllBut(3, []int{0, 1, 2, 3, 4, 5, 6})
	require.Len(t, kept, 3)
	for _, i := range []int{0, 1, 2, 3, 4, 5, 6} {
		worse := 0
		for _, j := range kept {
			if Worse(&some.Changes[j], &some.Changes[i]) >= 0 {
				worse++
			}
		}
		require.Equal(t, some.Changes[i].Candidate == nil, worse == 3 && !slices.Contains(kept, i), "the worst three keep their bitmaps")
	}
}
