package review

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"smokeproof/harness"
)

// serving starts a server over one change and gives it with its address.
func serving(t *testing.T) *Server { return servingOf(t, results(one("l"))) }

func servingOf(t *testing.T, res *harness.Results) *Server {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, harness.PlanName)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "t.ttf"), nil, 0o666))
	require.NoError(t, os.WriteFile(path, []byte("[[face]]\nname = \"text\"\nfile = \"t.ttf\"\n[[device]]\nname = \"label\"\ndpi = 203\nsizes = [8]\n"), 0o666))
	p, err := harness.LoadPlan(path)
	require.NoError(t, err)
	s, err := Listen(harness.NewDesk(p, res, harness.Options{}), "Ada", 0)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() { ended <- s.Run(ctx) }()
	t.Cleanup(func() { stop(); require.NoError(t, <-ended) })
	return s
}

func TestOnlyOurOwnPageIsAnswered(t *testing.T) {
	s := serving(t)
	origin := "http://" + s.hosts[0]
	for _, test := range []struct {
		reason, method, url, host, origin, site, kind string
		want                                          int
	}{
		{"the page itself", "GET", s.URL(), "", "", "none", "", 200},
		{"its head", "GET", s.URL() + "head.json", "", "", "same-origin", "", 200},
		{"no token", "GET", origin + "/", "", "", "", "", 404},
		{"another token", "GET", origin + "/AAAA/", "", "", "", "", 404},
		{"a name that leads here by DNS", "GET", s.URL(), "evil.example", "", "", "", 421},
		{"a script of another page", "GET", s.URL() + "data/plates-0.js", "", "", "cross-site", "", 403},
		{"a decision from another page", "POST", s.URL() + "decide", "", "http://evil.example", "cross-site", "application/json", 403},
		{"a decision from nowhere", "POST", s.URL() + "decide", "", "", "", "application/json", 403},
		{"a form, which any page may send", "POST", s.URL() + "decide", "", origin, "same-origin", "text/plain", 415},
		{"what is no decision", "POST", s.URL() + "decide", "", origin, "same-origin", "application/json", 400},
		{"a file beside the data", "GET", s.URL() + "data/..%2f..%2fserve.go", "", "", "", "", 410},
	} {
		r, err := http.NewRequest(test.method, test.url, strings.NewReader("{}x"))
		require.NoError(t, err)
		if test.host != "" {
			r.Host = test.host
		}
		for k, v := range map[string]string{"Origin": test.origin, "Sec-Fetch-Site": test.site, "Content-Type": test.kind} {
			if v != "" {
				r.Header.Set(k, v)
			}
		}
		resp, err := http.DefaultClient.Do(r)
		require.NoError(t, err, test.reason)
		body, err := io.ReadAll(resp.Body)
		require.NoError(t, err)
		resp.Body.Close()
		require.Equal(t, test.want, resp.StatusCode, "%s: %s", test.reason, body)
		policy := resp.Header.Get("Content-Security-Policy")
		require.Contains(t, policy, "default-src 'none'", test.reason)
		require.Contains(t, policy, "frame-ancestors 'none'", "%s: no page frames ours", test.reason)
		for name, value := range map[string]string{
			"Referrer-Policy":              "no-referrer", // the address holds the token
			"Cross-Origin-Resource-Policy": "same-origin",
			"X-Content-Type-Options":       "nosniff",
			"Cache-Control":                "no-store",
		} {
			require.Equal(t, value, resp.Header.Get(name), "%s: %s", test.reason, name)
		}
	}
}

func TestAServedThrongIsReadFileByFile(t *testing.T) {
	res := multitude(harness.MostApart + 1)
	s := servingOf(t, res)
	get := func(path string) (int, string) {
		resp, err := http.Get(s.URL() + path)
		require.NoError(t, err)
		defer resp.Body.Close()
		body, err := io.ReadAll(resp.Body)
		require.NoError(t, err)
		return resp.StatusCode, string(body)
	}
	_, text := get("head.json")
	var head struct {
		Version int
		Rows    [][]any
		Causes  []causeText
	}
	require.NoError(t, json.Unmarshal([]byte(text), &head))
	rows, last := len(head.Rows), 0
	for _, c := range head.Causes {
		if c.Rest == nil {
			continue
		}
		for _, n := range c.Rest.Files {
			status, text := get(fmt.Sprintf("data/rest-%d.js?results=%d", n, head.Version))
			require.Equal(t, http.StatusOK, status)
			var list [][]any
			require.NoError(t, json.Unmarshal([]byte(strings.TrimSuffix(strings.TrimPrefix(text, fmt.Sprintf("arrived(\"rest\",%d,", n)), ")\n")), &list))
			rows += len(list)
			last = max(last, n)
		}
	}
	require.Equal(t, len(res.Changes), rows)
	for path, want := range map[string]int{
		fmt.Sprintf("data/rest-%d.js?results=%d", last+1, head.Version): http.StatusNotFound,
		fmt.Sprintf("data/rest--1.js?results=%d", head.Version):         http.StatusNotFound,
		fmt.Sprintf("data/rest-0.js?results=%d", head.Version+1):        http.StatusGone,
	} {
		status, _ := get(path)
		require.Equal(t, want, status, path)
	}
}

func TestTheServerListensOnLoopbackAlone(t *testing.T) {
	s := serving(t)
	require.Equal(t, "127.0.0.1", strings.Split(s.listen.Addr().String(), ":")[0])
	require.GreaterOrEqual(t, len(s.token), 24, "144 bits")
	require.NotEqual(t, s.token, serving(t).token)
}

func TestAPageHearsOfFaultsAndResults(t *testing.T) {
	s := serving(t)
	resp, err := http.Get(s.URL() + "events")
	require.NoError(t, err)
	defer resp.Body.Close()
	heard := make([]byte, 256)
	n, err := resp.Body.Read(heard)
	require.NoError(t, err)
	require.Equal(t, "event: results\ndata: 1\n\n", string(heard[:n]))
	s.Tell(io.ErrUnexpectedEOF)
	n, err = resp.Body.Read(heard)
	require.NoError(t, err)
	require.Equal(t, "event: fault\ndata: unexpected EOF\n\n", string(heard[:n]))
}
