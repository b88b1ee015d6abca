package review

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"smokeproof/harness"
)

// Server is the page on this machine alone: its address holds a token that is
// drawn anew for each server, every decision is written at once, and a page that
// is open hears of what others decide.
type Server struct {
	desk   *harness.Desk
	by     string // who decides, until the page names another
	token  string
	hosts  [2]string
	listen net.Listener
	faults *bell

	mu     sync.Mutex
	sheets map[int]*sheet // of the latest versions
}

// maxRequest bounds what a page may send, in bytes.
const maxRequest = 64 << 20

// Listen begins a server on loopback; port 0 takes any that is free.
func Listen(desk *harness.Desk, by string, port int) (*Server, error) {
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return nil, fmt.Errorf("no page can be served: %w; name another --port", err)
	}
	secret := make([]byte, 18)
	rand.Read(secret)
	_, p, _ := net.SplitHostPort(l.Addr().String())
	return &Server{
		desk: desk, by: by, token: base64.RawURLEncoding.EncodeToString(secret), listen: l, faults: newBell(),
		hosts: [2]string{"127.0.0.1:" + p, "localhost:" + p}, sheets: map[int]*sheet{},
	}, nil
}

// URL is where the page is.
func (s *Server) URL() string { return "http://" + s.hosts[0] + "/" + s.token + "/" }

// Tell shows a fault on every page that is open.
func (s *Server) Tell(err error) { s.faults.ring(err.Error()) }

// Run serves until the context ends.
func (s *Server) Run(ctx context.Context) error {
	h := &http.Server{Handler: s.handler(), ReadHeaderTimeout: 10 * time.Second, BaseContext: func(net.Listener) context.Context { return ctx }}
	done := make(chan error, 1)
	go func() { done <- h.Serve(s.listen) }()
	select {
	case err := <-done:
		return fmt.Errorf("serving the page: %w", err)
	case <-ctx.Done():
	}
	end, stop := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
	defer stop()
	err := h.Shutdown(end)
	if e := <-done; !errors.Is(e, http.ErrServerClosed) {
		err = errors.Join(err, e)
	}
	return err
}

func (s *Server) handler() http.Handler {
	m := http.NewServeMux()
	m.HandleFunc("GET /{token}/{$}", s.page)
	m.HandleFunc("GET /{token}/head.json", s.head)
	m.HandleFunc("GET /{token}/data/{file}", s.data)
	m.HandleFunc("GET /{token}/events", s.events)
	m.HandleFunc("POST /{token}/decide", s.decide)
	m.HandleFunc("POST /{token}/undo", s.undo)
	return s.guard(m)
}

// guard lets through what comes from our own page: the host is loopback by name,
// so that no other name leads here; the path begins with the token; and what
// comes from a page comes from ours.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Cache-Control", "no-store")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Content-Security-Policy", onServer.policy()+"; frame-ancestors 'none'")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		first, _, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		switch {
		case r.Host != s.hosts[0] && r.Host != s.hosts[1]:
			http.Error(w, "this server answers to its own address only", http.StatusMisdirectedRequest)
		case subtle.ConstantTimeCompare([]byte(first), []byte(s.token)) != 1:
			http.Error(w, "the address lacks the token; take it from the terminal", http.StatusNotFound)
		case !ours(r):
			http.Error(w, "the request comes from another page", http.StatusForbidden)
		default:
			r.Body = http.MaxBytesReader(w, r.Body, maxRequest)
			next.ServeHTTP(w, r)
		}
	})
}

// ours says that no other page made the browser send the request. What changes
// something must say where it comes from; a browser always does.
func ours(r *http.Request) bool {
	if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" && site != "none" {
		return false
	}
	origin := r.Header.Get("Origin")
	if r.Method == http.MethodGet && origin == "" {
		return true
	}
	return origin == "http://"+r.Host
}

// sheet is the layout of the results as they stand, made once a version. The one
// before is kept for a page that is still reading it.
func (s *Server) sheet(ctx context.Context) (*sheet, error) {
	res, version, _ := s.desk.Results()
	s.mu.Lock()
	defer s.mu.Unlock()
	if made := s.sheets[version]; made != nil {
		return made, nil
	}
	around, err := s.desk.Plan().Surround(ctx, res)
	if err != nil {
		return nil, err
	}
	made, err := layOut(GistOf(res), res, around)
	if err != nil {
		return nil, err
	}
	made.head.Version, made.head.By = version, s.by
	s.sheets[version] = made
	for v := range s.sheets {
		if v < version-1 {
			delete(s.sheets, v)
		}
	}
	return made, nil
}

func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	sh, err := s.sheet(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	writePage(w, &sh.head, onServer)
}

func (s *Server) head(w http.ResponseWriter, r *http.Request) {
	sh, err := s.sheet(r.Context())
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, &sh.head)
}

// data gives a data file of the version that the page was made from.
func (s *Server) data(w http.ResponseWriter, r *http.Request) {
	version, _ := strconv.Atoi(r.URL.Query().Get("results"))
	s.mu.Lock()
	sh := s.sheets[version]
	s.mu.Unlock()
	kind, number, _ := strings.Cut(strings.TrimSuffix(r.PathValue("file"), ".js"), "-")
	n, err := strconv.Atoi(number)
	w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
	switch {
	case sh == nil:
		http.Error(w, "the results are drawn anew", http.StatusGone)
	case err == nil && kind == "plates" && n >= 0 && n < sh.plates():
		sh.writePlates(w, n)
	case err == nil && kind == "rest" && n >= 0 && n < len(sh.throng.rests):
		sh.writeRest(w, n)
	case err == nil && kind == "words" && n >= 0 && n < len(sh.words):
		sh.writeWords(w, n)
	default:
		http.Error(w, "no such file", http.StatusNotFound)
	}
}

func answer(w http.ResponseWriter, v any) {
	w.Header().Set("Content-Type", "application/json")
	json.NewEncoder(w).Encode(v)
}

// fail answers with one line: what the page's user can mend is their error, the
// rest ours.
func fail(w http.ResponseWriter, err error) {
	status := http.StatusInternalServerError
	if errors.Is(err, harness.ErrUsage) {
		status = http.StatusBadRequest
	}
	http.Error(w, err.Error(), status)
}
