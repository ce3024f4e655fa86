package desk

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
)

// The cookies. They are the program's own on this host, whatever its port.
const (
	sessionCookie  = "musterstone_session"
	reviewerCookie = "musterstone_reviewer"
	keysCookie     = "musterstone_keys"
)

// maxForm bounds what a form may send, maxQuery what may stand behind the path of an address, in bytes.
const (
	maxForm  = 64 << 10
	maxQuery = 8 << 10
)

// policy lets the pages load their own stylesheet, script and photographs and nothing else.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard knows who may ask for what.
type guard struct {
	key    []byte // of the tokens; another one each time the desk is opened
	hosts  []string
	keyed  bool
	newKey func(path string)

	mu     sync.Mutex
	pass   string          // the key that was printed and is not spent
	opened map[string]bool // sessions that showed a key
}

// mint makes a new key and has it printed.
func (g *guard) mint() {
	g.mu.Lock()
	g.pass = random()
	path := "/?key=" + g.pass
	g.mu.Unlock()
	g.newKey(path)
}

// enter spends the key, if it is the one, for the session.
func (g *guard) enter(pass, session string) bool {
	g.mu.Lock()
	ok := g.pass != "" && subtle.ConstantTimeCompare([]byte(pass), []byte(g.pass)) == 1
	if ok {
		g.pass = ""
		g.opened[session] = true
	}
	g.mu.Unlock()
	if ok {
		g.mint()
	}
	return ok
}

func (g *guard) isOpen(session string) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.opened[session]
}

// token is what a form of the session must carry.
func (g *guard) token(session string) string {
	m := hmac.New(sha256.New, g.key)
	m.Write([]byte(session))
	return hex.EncodeToString(m.Sum(nil))
}

// random is a new key or session.
func random() string {
	var b [16]byte
	rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// session is the session of a request, "" where it has none that looks like one of ours.
func session(r *http.Request) string {
	c, err := r.Cookie(sessionCookie)
	if err != nil || len(c.Value) != 32 || strings.Trim(c.Value, "0123456789abcdef") != "" {
		return ""
	}
	return c.Value
}

// setCookie has the browser keep a value for the desk alone, for so many seconds; 0 until it is closed.
func setCookie(w http.ResponseWriter, name, value string, age int) {
	http.SetCookie(w, &http.Cookie{Name: name, Value: value, Path: "/", MaxAge: age, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

// guarded lets through what may pass: requests to the desk's own address, from its own pages, of a size that a person's have; and says to
// browsers what a page may do.
func (d *Desk) guarded(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		d.fail(w, r, &wrong{http.StatusForbidden, "this came from a page of another site; nothing was changed"})
	}))
	inner := cross.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s := session(r)
		if s == "" {
			s = random()
			setCookie(w, sessionCookie, s, 0)
			r.AddCookie(&http.Cookie{Name: sessionCookie, Value: s})
		}
		if d.guard.keyed && !d.guard.isOpen(s) {
			if key := r.URL.Query().Get("key"); r.Method == http.MethodGet && key != "" && d.guard.enter(key, s) {
				http.Redirect(w, r, "/", http.StatusSeeOther)
				return
			}
			if r.URL.Path != "/desk.css" {
				d.fail(w, r, &wrong{http.StatusForbidden, "this desk opens with a key that was printed where it was started, once for each browser; ask there for the next one"})
				return
			}
		}
		if r.Method == http.MethodPost {
			r.Body = http.MaxBytesReader(w, r.Body, maxForm)
			if err := r.ParseForm(); err != nil {
				d.fail(w, r, &wrong{http.StatusRequestEntityTooLarge, "the form could not be read, or is longer than any that this desk sends; nothing was changed"})
				return
			}
			if !hmac.Equal([]byte(r.PostForm.Get("token")), []byte(d.guard.token(session(r)))) {
				d.stale(w, r)
				return
			}
		}
		next.ServeHTTP(w, r)
	}))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin") // with no-referrer, browsers would name no origin with a form
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		switch {
		case !slices.Contains(d.guard.hosts, strings.ToLower(r.Host)):
			http.Error(w, "this desk answers only under its own address", http.StatusMisdirectedRequest)
		case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
			h.Set("Allow", "GET, HEAD, POST")
			http.Error(w, "the desk knows only GET and POST", http.StatusMethodNotAllowed)
		case len(r.URL.RawQuery) > maxQuery:
			http.Error(w, "the address is longer than any that this desk makes", http.StatusRequestURITooLong)
		default:
			inner.ServeHTTP(w, r)
		}
	})
}

// Hosts are the values of Host under which a listener may be asked: its address, and "localhost" where it is on loopback; for a listener
// on every address, those of the machine.
func Hosts(addr net.Addr) []string {
	host, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return []string{addr.String()}
	}
	ip := net.ParseIP(host)
	names := []string{host}
	if ip != nil && ip.IsLoopback() {
		names = []string{"127.0.0.1", "::1", "localhost", host}
	}
	if ip != nil && ip.IsUnspecified() {
		names = []string{"127.0.0.1", "::1", "localhost"}
		if addrs, err := net.InterfaceAddrs(); err == nil {
			for _, a := range addrs {
				if n, ok := a.(*net.IPNet); ok {
					names = append(names, n.IP.String())
				}
			}
		}
	}
	var hosts []string
	for _, n := range names {
		hosts = append(hosts, net.JoinHostPort(n, port))
		if port == "80" {
			hosts = append(hosts, n)
		}
	}
	return hosts
}
