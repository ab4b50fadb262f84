package bot

import (
	"maps"
	"slices"

	"tankside/engine"
	"tankside/parse"
)

// formsOf are the nutrients that each question about P and K is about, by the parser's keys.
var formsOf = map[string][]string{engine.POrP2O5: {"p"}, engine.KOrK2O: {"k"}, engine.PKOrOxides: {"p", "k"}}

// formTold takes the answer to "P, or P2O5?": the chat keeps it, so that it is asked once,
// and the message that it stood in is read again. Another message leaves the question.
func formTold(msg Message, m Memory) (Message, Memory) {
	p := m.Pending
	req := read(msg, m)
	if req.Form == "" || len(req.Facts)+len(req.Loose)+len(req.Asks) > 0 && !req.FormWord {
		return msg, m
	}
	of := formsOf[p.Problem]
	if req.FormWord {
		of = formsOf[engine.PKOrOxides]
	}
	m.UnitOf = withForm(m.UnitOf, req.Form, of)
	msg.Text, m.Pending = p.Text, nil
	return msg, m
}

// withForm adds what P and K are said in to what words mean in this chat.
func withForm(meant map[string]string, form string, of []string) map[string]string {
	out := maps.Clone(meant)
	if out == nil {
		out = map[string]string{}
	}
	for _, key := range of {
		out[key] = form
	}
	return out
}

// keepForm keeps the form that a sheet names itself: "8 P (elemental)".
func (t *turn) keepForm() {
	if t.req.Form != "" && slices.ContainsFunc(t.req.Facts, func(f engine.Fact) bool { return labPK[f.Slot] }) {
		t.m.UnitOf = withForm(t.m.UnitOf, t.req.Form, formsOf[engine.PKOrOxides])
	}
}

var labPK = map[engine.Slot]bool{engine.AnalysisPhosphorus: true, engine.AnalysisPotassium: true, engine.AnalysisPhosphate: true, engine.AnalysisPotash: true}

// asksNutrients says whether P or K is asked for, and nothing else.
func (t *turn) asksNutrients() bool {
	return len(t.req.Asks) > 0 && !slices.ContainsFunc(t.req.Asks, func(a parse.Ask) bool { return a.Slot != engine.Phosphate && a.Slot != engine.Potash })
}

// leavesForm says whether a message that only says values of its own leaves the question
// about P and K open, so that the sheet is not lost: "8000 gal/ac" before "element".
func leavesForm(p *Pending, req *parse.Request) bool {
	return p != nil && formsOf[p.Problem] != nil && len(req.Facts) > 0 && len(req.Asks)+len(req.Acts)+len(req.Loose) == 0 && req.Problem == nil
}
