package parse

import (
	"math"
	"strings"

	"tankside/engine"
	"tankside/engine/unit"
)

// qty is an amount on its way to a fact.
type qty struct {
	i, j     int // its tokens, j exclusive
	lo, hi   int // the same with the words that placed it
	min, max float64
	alt      float64 // second reading of "3.000"
	list     []float64
	unit     *unit.Unit // nil: no unit was said
	per      string     // "7000 per acre": the unit it is per, the first being unsaid
	perLoad  bool
	clash    string // "t", "m", "g", "ton", not settled
	pair     bool
	odd      bool
	part     bool // a bare fraction
	words    bool
	about    bool
	slot     engine.Slot
	of       string
	implied  bool
	back     bool           // the way back takes as long
	instead  *engine.Choice // the amount that this one is said to be and not: "12 not 15"
	rule     string         // the binding rule, by its example
	passed   []string       // words beside it that did not place it, with the reason; only when traced
	done     bool           // bound, withdrawn or otherwise dealt with
}

func (q *qty) bare() bool { return q.unit == nil && q.per == "" && q.clash == "" }

// dim is what the amount measures; None for a bare number.
func (q *qty) dim() unit.Dim {
	if q.unit == nil {
		return unit.None
	}
	return q.unit.Dim
}

// whatever is the dimension that the amount will have, "per acre" alone included.
func (q *qty) whatever() unit.Dim {
	if q.unit == nil && q.per != "" {
		return unit.DimVolumePerArea
	}
	return q.dim()
}

// quantities turns the grammar's amounts into qtys and joins those that are one
// amount in two units: 13 ft 9 in, 5 lb 2 oz, 1 hour 30 minutes.
func (r *reader) quantities(amounts []*amount) []qty {
	out := make([]qty, 0, len(amounts))
	for _, a := range amounts {
		q := r.quantity(a)
		if n, ok := r.markAhead(&q); ok {
			n.lo, n.hi = n.i, n.j
			out = append(out, n)
		}
		if n := len(out); n > 0 && out[n-1].j == q.i {
			if whole := joins(&out[n-1], &q); whole != nil {
				prev := &out[n-1]
				prev.min = whole.FromBase(whole.ToBase(prev.min) + q.unit.ToBase(q.min))
				prev.max, prev.unit, prev.perLoad, prev.j, prev.hi = prev.min, whole, q.perLoad, q.j, q.j
				continue
			}
		}
		if n := len(out); n > 0 && out[n-1].j == q.i-1 && r.at(q.i-1).class == cComma && (r.at(q.i-1).text == "and" || r.at(q.i-1).text == "y") && (out[n-1].dim() == unit.DimTime) {
			if whole := joins(&out[n-1], &q); whole != nil { // one minute and 30 seconds
				prev := &out[n-1]
				prev.min = whole.FromBase(whole.ToBase(prev.min) + q.unit.ToBase(q.min))
				prev.max, prev.unit, prev.j, prev.hi = prev.min, whole, q.j, q.j
				continue
			}
		}
		if n := len(out); n > 0 && r.bareSeconds(&out[n-1], &q) {
			prev := &out[n-1]
			prev.min = prev.min + q.min/60
			prev.max, prev.j, prev.hi = prev.min, q.j, q.j
			continue
		}
		if n := len(out); n > 0 && r.ranges(&out[n-1], &q) {
			prev := &out[n-1]
			prev.min, prev.max, prev.j, prev.hi = min(prev.min, q.min), max(prev.max, q.max), q.j, q.j
			continue
		}
		if n := len(out); n > 0 && out[n-1].j == q.i && out[n-1].dim() == unit.DimMoney && q.words && q.min >= 5 && q.min < 100 && len(q.list) == 0 && q.unit == nil {
			cents(&out[n-1], &q)
			continue
		}
		q.lo, q.hi = q.i, q.j
		if n, ok := r.bagsAhead(&q); ok {
			out = append(out, n)
		}
		out = append(out, q)
	}
	return out
}

// bareSeconds: "4 min 20" is four minutes and twenty seconds, unless what follows is
// counted by the 20.
func (r *reader) bareSeconds(a, b *qty) bool {
	if a.unit == nil || a.unit.Symbol != "min" || a.j != b.i || !b.bare() || b.part || b.odd || len(b.list) > 0 || b.min != b.max || b.min < 1 || b.min >= 60 || a.min != math.Trunc(a.min) {
		return false
	}
	switch t := r.at(b.j); t.class {
	case cAt, cComma, cQuestion, cFiller, cQ:
		return true
	case cRole:
		return t.key == "gate"
	case cConv:
		return r.at(b.j+1).class == cRole // 4 min 10 to empty
	}
	return b.j >= len(r.tokens)
}

// markAhead parts a mark of the gate from the speed behind it: "qué dosis da en la 4 a 6
// km/h" is no range of speeds.
func (r *reader) markAhead(q *qty) (qty, bool) {
	if q.min == q.max || q.dim() != unit.DimSpeed || q.i < 2 || r.at(q.i-1).text != "la" || r.at(q.i+1).text != "a" || !r.at(q.i+2).numeric() {
		return qty{}, false
	}
	n := qty{i: q.i, j: q.i + 1, min: q.min, max: q.min}
	q.min, q.i = q.max, q.i+2
	return n, true
}

// bagsAhead parts "two fifty pound bags" into how many and how heavy: no bag weighs 250
// pounds.
func (r *reader) bagsAhead(q *qty) (qty, bool) {
	t := r.after(q.j - 1)
	if !q.pair || q.max >= 2000 || q.dim() != unit.DimMass || t.class != cRole || t.key != "bag" || !t.plural() {
		return qty{}, false
	}
	n := qty{i: q.i, j: q.i + 1, lo: q.i, hi: q.i + 1, min: math.Floor(q.min / 100), words: true}
	n.max = n.min
	q.min = math.Mod(q.min, 100)
	q.max, q.i, q.lo, q.pair, q.odd = q.min, q.i+1, q.i+1, false, false
	return n, true
}

// ranges says whether two amounts in one unit are the ends of a range: 10 lb to 12 lb.
func (r *reader) ranges(a, b *qty) bool {
	return a.unit != nil && a.unit == b.unit && b.i == a.j+1 && r.tokens[a.j].class == cRange && a.min == a.max && b.min == b.max && len(a.list)+len(b.list) == 0
}

// cents: "a dollar ten a pound" is 1.10.
func cents(a, b *qty) {
	a.min += b.min / 100
	a.max, a.j, a.hi = a.min, b.j, b.j
	if b.per != "" {
		a.unit = unit.Find("$/" + b.per)
	}
}

var smaller = map[string]string{"ft": "in", "lb": "oz", "h": "min", "min": "s", "m": "cm"}

// joins is the unit of two amounts that are one, nil when they are not: the larger
// unit, and what the second is per ("12 lb 8 oz an acre").
func joins(a, b *qty) *unit.Unit {
	if a.unit == nil || b.unit == nil || a.min != a.max || b.min != b.max || a.min != math.Trunc(a.min) || len(b.list) > 0 {
		return nil
	}
	part, per, divided := strings.Cut(b.unit.Symbol, "/")
	if smaller[a.unit.Symbol] != part {
		return nil
	}
	if divided {
		return unit.Find(a.unit.Symbol + "/" + per)
	}
	return a.unit
}

func (r *reader) quantity(a *amount) qty {
	q := qty{i: a.From, j: a.To, min: a.Lo.Value, alt: a.Lo.Alt, pair: a.Lo.Pair, odd: a.Lo.Odd, part: a.Lo.Part, words: a.Lo.Words}
	q.max = q.min
	if a.Range {
		q.max = a.Hi.Value
		if a.Hi.Scale > 1 && a.Lo.Scale == 1 && q.min*a.Hi.Scale <= q.max && q.min < q.max {
			q.min *= a.Hi.Scale // 6-8k: the thousand belongs to both
		}
		if q.min > q.max {
			q.min, q.max = q.max, q.min
		}
		q.odd = q.odd || a.Hi.Odd
		q.alt = 0
	}
	q.min, q.max = q.min+a.Part, q.max+a.Part
	for i := range a.List {
		if len(q.list) == 0 {
			q.list = append(q.list, a.Lo.Value)
		}
		q.list = append(q.list, a.List[i].Value)
		q.odd = q.odd || a.List[i].Odd
	}
	r.setUnit(&q, a)
	q.about = r.saidAbout(&q)
	return q
}

// setUnit composes the unit from what it is, what it is per, and money.
func (r *reader) setUnit(q *qty, a *amount) {
	head, per := a.Unit, a.Per
	if a.Money {
		head = "$"
	}
	if head == "cent" {
		head, q.min, q.max = "$", q.min/100, q.max/100
	}
	if head == "g?" && (per == "acre" || per == "ha") && q.max >= 200 {
		head = "gal" // 7000g/a
	}
	if r.unsettled(head, q) {
		return
	}
	if a.PerThou != "" {
		per = a.PerThou
		if head == "" {
			head = "lb"
		}
	}
	q.perLoad = a.PerLoad
	switch {
	case head == "":
		q.per = per
	case per == "":
		q.unit = unit.Find(head)
	default:
		if q.unit = unit.Find(joined(head, per)); q.unit == nil {
			q.unit, q.clash = unit.Find(head), head+"/"+per
		}
	}
}

// joined is the symbol of a unit per another.
func joined(head, per string) string {
	switch head + "/" + per {
	case "mi/h":
		return "mph"
	case "gal/min", "L/min":
		return head + "/min"
	case "$/1000gal":
		return "$/1000gal"
	}
	return head + "/" + per
}

// unsettled handles the unit names that mean several things, once the chat or the
// message has not settled them.
func (r *reader) unsettled(head string, q *qty) bool {
	switch head {
	case "t?", "m?", "g?", "ton?", "units?", "quintal", "arroba":
		if u := r.ctx.UnitOf[strings.TrimSuffix(head, "?")]; u != "" {
			q.unit = unit.Find(u)
			return true
		}
		q.clash = head
		return true
	}
	if head != "" && unit.Find(head) == nil {
		q.clash = head // manzana, fanega: how much ground is that here?
		return true
	}
	return false
}

// saidAbout looks for "about" right before the number, or "or so" behind it.
func (r *reader) saidAbout(q *qty) bool {
	for i := q.i; i < q.j; i++ {
		if t := &r.tokens[i]; t.class == cSkip && t.key == "about" {
			t.used = true
			return true
		}
	}
	for i := q.i - 1; i >= 0 && i >= q.i-2; i-- {
		if t := &r.tokens[i]; t.class == cAbout {
			t.used = true
			return true
		} else if t.class != cSkip && t.class != cFiller && t.class != cAt {
			break
		}
	}
	if t := r.at(q.j); t.class == cAbout && (strings.Contains(t.text, "so") || strings.Contains(t.text, "ish") || strings.Contains(t.text, "take") || strings.Contains(t.text, "menos")) {
		t.used = true
		return true
	}
	return false
}

// span is the byte range of tokens i..j in the original message. They may have been
// moved ("31 lb n per 1000 gal"), so the outermost count.
func (r *reader) span(i, j int) [2]int {
	if i >= len(r.tokens) || j < 1 || i >= j {
		return [2]int{}
	}
	from, to := r.tokens[i].from, r.tokens[i].to
	for k := i + 1; k < j; k++ {
		from, to = min(from, r.tokens[k].from), max(to, r.tokens[k].to)
	}
	return [2]int{r.origin(from), r.origin(to)}
}
