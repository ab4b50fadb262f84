package bot

import (
	"slices"

	"tankside/engine"
	"tankside/parse"
)

// asideFor is for how many messages a rate whose crop was asked about is kept while other
// things are talked of.
const asideFor = 4

// cropDoubted says whether a question is which crop an amount of seed is of.
func cropDoubted(p *Pending) bool {
	return p != nil && (p.Problem == engine.WhichCrop || p.Problem == engine.RyeOrRyegrass) && len(p.Choices) > 0 && p.Facts.Find(engine.SeedRate, "") != nil
}

// keepAside keeps an open question about a crop beside what the message was about, so that
// the rate is not lost: "20 lb rye", asked which, "acres per load?", then "cereal".
func (t *turn) keepAside() {
	if a := t.m.Aside; a != nil {
		left := *a
		left.Left--
		if t.m.Aside = &left; left.Left <= 0 || saysSeed(t.said) || t.act("forget_all") != nil || t.out.Act == engine.ActDropped || cropDoubted(t.m.Pending) {
			t.m.Aside = nil
		}
	}
	if p := t.asked; cropDoubted(p) && t.pending == nil && t.m.Pending != p && !cropDoubted(t.m.Pending) && !saysSeed(t.said) && t.out.Act != engine.ActDropped && t.out.Act != engine.ActForgotAll {
		aside := *p
		aside.Left, aside.Behind = asideFor, nil
		t.m.Aside = &aside
	}
}

// answersAside takes a crop alone as the answer to such a question.
func (t *turn) answersAside() {
	p := t.m.Aside
	if p == nil || t.m.Pending != nil || len(t.req.Asks)+len(t.req.Acts)+len(t.said)+len(t.req.Loose)+len(t.req.Info) > 0 || t.req.Question || len(t.req.Crops) > 1 {
		return
	}
	fact := t.chosen(p)
	if fact == nil {
		fact = t.byKind(p)
	}
	if fact != nil {
		t.m.Aside = nil
		t.goOn(p, *fact)
	}
}

// asksAside brings such a rate into a question about seed, and asks again behind it: the
// weight is the same whichever of the crops it is.
func (t *turn) asksAside() {
	p := t.m.Aside
	if cropDoubted(t.asked) && t.pending == nil {
		p = t.asked
	}
	if p == nil || t.whatIf || saysSeed(t.said) || t.req.Problem != nil || len(t.req.Crops) > 0 || !slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return seedResult[a.Slot] }) {
		return
	}
	for _, f := range p.Facts {
		if f.Slot == engine.SeedRate {
			f.At, f.Origin = [2]int{}, engine.Remembered
			t.said = append(t.said[:len(t.said):len(t.said)], f)
		}
	}
	t.req.Problem, t.req.Choices = &engine.Problem{Code: p.Problem, Words: p.Words}, p.Choices
}
