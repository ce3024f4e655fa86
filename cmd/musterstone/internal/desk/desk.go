// Package desk is the review desk: pages on which a person sets stones beside records and decides. It serves one survey, on
// loopback unless told otherwise, from templates, a stylesheet and a small script that are embedded; the pages work without the script
// and load nothing from elsewhere.
//
// What the desk shows is a proposal made with the decisions of some moment (a round) and, laid over it, whatever was decided since,
// here or by another program on the same ledger. A new round is made after decisions: at once where that is quick, else in the background.
package desk

import (
	"context"
	"crypto/rand"
	"fmt"
	"html/template"
	"net/http"
	"os"
	"sync"
	"time"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/index"
	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
)

// Options say how a desk is run.
type Options struct {
	// Program is the program's version, kept with each decision.
	Program string
	// Clock gives the time; nil is time.Now.
	Clock func() time.Time
	// Hosts are the values of Host that requests may carry: the address listened on, and other names of it.
	Hosts []string
	// Keyed is set where the desk can be reached from other machines: then a browser must first show a key that was printed, which is spent
	// with that.
	Keyed bool
	// NewKey hears each key to be printed, as the path to open.
	NewKey func(path string)
	// Note hears what the person who started the desk should know.
	Note func(text string)
}

// Desk serves the pages of one survey.
type Desk struct {
	opts      Options
	job       *job.Job
	index     *index.Index
	ledger    *ledger.Ledger
	folder    *os.Root // the survey's, for photographs
	title     string
	digests   map[string]string
	weigher   *weigh.Weigher
	subjects  []*model.Subject
	at        map[model.StoneID]int
	facets    []facets               // of each stone
	registers map[model.StoneID]bool // the stones that are rows of a burial register
	pages     map[string]*template.Template
	guard     guard
	ctx       context.Context // ends with Close
	stop      context.CancelFunc
	working   sync.Mutex // held while a round is made: the job is for one goroutine

	mu       sync.Mutex
	round    *round
	board    *board
	waiting  bool          // a round is to be made
	latestAt time.Time     // when something was last decided
	took     time.Duration // the last round
	group    sync.WaitGroup
}

// quick is how long a round may take to be made within a request.
const quick = 250 * time.Millisecond

// New reads the survey of a job, weighs every stone and makes the desk ready to serve. It does not close the job.
func New(ctx context.Context, j *job.Job, opts Options) (*Desk, error) {
	if opts.Clock == nil {
		opts.Clock = time.Now
	}
	if opts.Note == nil {
		opts.Note = func(string) {}
	}
	if opts.NewKey == nil {
		opts.NewKey = func(string) {}
	}
	pages, err := parsePages()
	if err != nil {
		return nil, err
	}
	d := &Desk{opts: opts, job: j, pages: pages, at: map[model.StoneID]int{}, registers: map[model.StoneID]bool{}}
	d.ctx, d.stop = context.WithCancel(context.WithoutCancel(ctx))
	if d.index, err = j.Index(ctx); err != nil {
		return nil, err
	}
	counts, err := j.Counts(ctx)
	if err != nil {
		return nil, err
	}
	if d.ledger, err = j.Ledger(); err != nil {
		return nil, err
	}
	d.ledger.Clock = opts.Clock
	d.ledger.Follow(d.index.Record, d.index.Records(d.ctx))
	if d.digests, err = j.Digests(); err != nil {
		return nil, err
	}
	d.title = j.Survey.Title
	d.subjects = j.Subjects()
	d.weigher = weigh.New(counts, weigh.CountMoves(d.subjects))
	d.facets = make([]facets, len(d.subjects))
	for i, s := range d.subjects {
		d.at[s.Stone.ID] = i
		d.facets[i] = facetsOf(s)
		if s.Stone.Register != nil {
			d.registers[s.Stone.ID] = true
		}
	}
	if err := d.makeRound(ctx); err != nil {
		return nil, err
	}
	if d.folder, err = os.OpenRoot(j.Survey.Dir); err != nil {
		return nil, fmt.Errorf("open the survey's folder: %w", err)
	}
	key := make([]byte, 32)
	rand.Read(key) // never fails
	d.guard = guard{key: key, hosts: opts.Hosts, keyed: opts.Keyed, newKey: opts.NewKey, opened: map[string]bool{}}
	if opts.Keyed {
		d.guard.mint()
	}
	return d, nil
}

// Close ends work in the background and waits for it.
func (d *Desk) Close() error {
	d.stop()
	d.group.Wait()
	return d.folder.Close()
}

// Handler serves the pages, guarded.
func (d *Desk) Handler() http.Handler {
	mux := http.NewServeMux()
	page := func(pattern string, h func(http.ResponseWriter, *http.Request) error) {
		mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			if err := h(w, r); err != nil {
				d.fail(w, r, err)
			}
		})
	}
	page("GET /{$}", d.home)
	page("GET /stand", d.standPage)
	page("GET /stone", d.stonePage)
	page("GET /record", d.recordPage)
	page("GET /find", d.findPage)
	page("GET /plan", d.planPage)
	page("GET /keys", d.keysPage)
	page("GET /who", d.whoPage)
	page("POST /who", d.setWho)
	page("POST /keys", d.setKeys)
	page("POST /decide", d.decide)
	page("POST /undo", d.undo)
	page("POST /note", d.note)
	page("GET /photo", d.photo)
	page("GET /pulse", d.pulse)
	mux.HandleFunc("GET /desk.css", static("desk.css", "text/css; charset=utf-8"))
	mux.HandleFunc("GET /icon.svg", static("icon.svg", "image/svg+xml"))
	mux.HandleFunc("GET /desk.js", static("desk.js", "text/javascript; charset=utf-8"))
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		d.fail(w, r, &wrong{http.StatusNotFound, "there is no such page"})
	})
	return d.guarded(mux)
}
