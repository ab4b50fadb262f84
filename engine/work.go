package engine

import (
	"time"

	"tankside/engine/unit"
)

// Context is what an answer may lean on beside the facts: settings of the chat
// and words that have no number.
type Context struct {
	Units    Units
	Runs     []Run      // gate calibration
	Outlet   string     // outlet set-up in use; runs of another one do not count
	Scheme   string     // nitrogen availability scheme; empty: the stated default
	Limits   []Limit    // rate caps the chat has set
	Convert  *unit.Unit // what to convert into
	Soil     string     // texture: one of Soils()
	Moisture string     // share of the soil's water room that is full: one of Moistures()
	Manure   string     // kind of manure, for typical values: one of Manures()
	Method   string     // how it goes on: one of Methods()
	WorkedIn float64    // hours until it is worked in, where words told; 0: not said
	Timing   bool       // the time to seed a crop is asked for
	Today    time.Time  // the day of the message
	Frost    time.Time  // first hard frost expected this year; zero: not said
	Sow      time.Time  // the day that a seeding time is asked for; zero: today
	Place    string     // where the field is, as a Window has it; empty: not said
	Shut     bool       // the gate is shut: all of the pump's flow returns
	Focus    []Slot     // results asked for by name: what they need is asked for too
	Refill   bool       // what is left in the tank, with its seed, is filled up again
}

// Reckoning is what a set of questions comes to.
type Reckoning struct {
	Topics  []Topic
	Results []Value
	Used    Facts // facts that were read, whatever their origin
	Assumed Facts // stated defaults that were used

	Missing   []Slot
	MissingOf []string
	Conflict  []Slot
	Notes     []Note

	Problem      string // code of the first problem; its particulars follow
	Slot         Slot
	Of           string
	Words        []string
	Value, Limit float64 // base units of Slot
	Choices      []Choice

	Crops   []string
	Timings []Timing
	Info    []string
}

// work is one reckoning under way, at one corner of the ranges that were said.
type work struct {
	c      *Context
	facts  Facts
	used   []bool
	few    [16]bool       // room of used for the usual handful of facts
	hidden Slot           // the slot being solved for: its fact is not read
	busy   [numSlots]bool // slots being derived, so that rules do not chase their tails
	ranged []int          // facts that are ranges
	corner int            // bit k set: the upper end of fact ranged[k]
	heavy  float64        // slurry density in use, base units
	loose  float64        // the opening or flow that a gate question is about
	out    Reckoning
}

// maxRanged is how many ranges are varied one by one; those beyond it vary
// together.
const maxRanged = 8

// at is fact i in base units at this corner.
func (w *work) at(i int) float64 {
	f := &w.facts[i]
	lo, hi := valueAt(f, w.heavy)
	if f.Min == f.Max {
		return lo
	}
	for k, r := range w.ranged {
		if r == i && w.corner&(1<<min(k, maxRanged-1)) != 0 {
			return hi
		}
	}
	return lo
}

// find is the index of the fact for s and of, or -1.
func (w *work) find(s Slot, of string) int {
	if s == w.hidden {
		return -1
	}
	for i := range w.facts {
		if w.facts[i].Slot == s && w.facts[i].Of == of {
			return i
		}
	}
	return -1
}

// said reads a fact only, without deriving it.
func (w *work) said(s Slot, of string) (float64, bool) {
	i := w.find(s, of)
	if i < 0 {
		return 0, false
	}
	w.used[i] = true
	return w.at(i), true
}

// ofOrAny reads the fact of this crop, else the one said without a crop.
func (w *work) ofOrAny(s Slot, of string) (float64, bool) {
	if v, ok := w.said(s, of); ok || of == "" {
		return v, ok
	}
	return w.said(s, "")
}

// get reads a fact, else derives it.
func (w *work) get(s Slot) (float64, bool) {
	if v, ok := w.said(s, ""); ok {
		return v, true
	}
	v, _, ok := w.derive(s)
	return v, ok
}

// has says whether get would find something, and marks nothing as used.
func (w *work) has(s Slot) bool {
	return w.find(s, "") >= 0 || w.ruleFor(s) != nil
}

// put adds a result, once.
func (w *work) put(s Slot, of string, v float64, by *Formula) {
	w.add(Value{Slot: s, Of: of, Min: v, Max: v, By: by})
}

// bound adds a result that is a limit rather than an answer.
func (w *work) bound(s Slot, v float64, by *Formula) {
	w.add(Value{Slot: s, Min: v, Max: v, By: by, Limit: true})
}

func (w *work) add(v Value) {
	if !isFinite(v.Min) || !isFinite(v.Max) {
		w.fail(&Problem{Code: Absurd, Slot: v.Slot, Of: v.Of})
		return
	}
	for i := range w.out.Results {
		if r := &w.out.Results[i]; r.Slot == v.Slot && r.Of == v.Of && r.Limit == v.Limit {
			return
		}
	}
	w.out.Results = append(w.out.Results, v)
}

// assume records a stated default and returns it in base units.
func (w *work) assume(s Slot, v float64, u *unit.Unit) float64 {
	if w.out.Assumed.Find(s, "") == nil {
		w.out.Assumed = append(w.out.Assumed, Fact{Slot: s, Min: v, Max: v, Unit: u, Origin: Assumed})
	}
	return u.ToBase(v)
}

// note adds a note, once.
func (w *work) note(n Note) {
	for i := range w.out.Notes {
		if o := &w.out.Notes[i]; o.ID == n.ID && o.Of == n.Of && o.Slot == n.Slot {
			return
		}
	}
	w.out.Notes = append(w.out.Notes, n)
}

// noted says whether one of these notes was made.
func (w *work) noted(ids ...string) bool {
	for i := range w.out.Notes {
		for _, id := range ids {
			if w.out.Notes[i].ID == id {
				return true
			}
		}
	}
	return false
}

// miss records a quantity to ask for, once.
func (w *work) miss(s Slot, of string) {
	for i, m := range w.out.Missing {
		if m == s && w.out.MissingOf[i] == of {
			return
		}
	}
	w.out.Missing = append(w.out.Missing, s)
	w.out.MissingOf = append(w.out.MissingOf, of)
}

// fail records a problem; the first one stands. It reports whether err was one.
func (w *work) fail(err error) bool {
	if err == nil {
		return false
	}
	p, ok := err.(*Problem)
	if !ok {
		p = &Problem{Code: Broken}
	}
	if w.out.Problem == "" {
		w.out.Problem, w.out.Slot, w.out.Of, w.out.Words = p.Code, p.Slot, p.Of, p.Words
		w.out.Value, w.out.Limit = p.Value, p.Limit
	}
	return true
}

// crop notes that the answer is about a crop.
func (w *work) crop(name string) {
	for _, c := range w.out.Crops {
		if c == name {
			return
		}
	}
	w.out.Crops = append(w.out.Crops, name)
}

// noContext is for work that leans on no setting of the chat.
var noContext = &Context{}

// unused marks every fact as not read yet.
func (w *work) unused() {
	if len(w.facts) <= len(w.few) {
		w.used = w.few[:len(w.facts)]
	} else {
		w.used = make([]bool, len(w.facts))
	}
}
