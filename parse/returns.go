package parse

import (
	"tankside/engine"
)

// returnsAsked: "what's the return at each mark" asks for what goes back to the tank at
// every mark of the gate that was timed. It is one thing to list, not a mark to find.
func (b *binder) returnsAsked() {
	if b.given(engine.GateOpening) || !b.has(cRole, "gate") || !b.has(cRole, "return") && !b.has(cNoun, "bypass_flow") || !b.has(cQ) && !b.has(cQuestion) {
		return
	}
	for i := range b.tokens {
		switch b.tokens[i].text {
		case "each", "every", "cada", "all the", "todas las":
			if t := b.at(i + 1); t.class == cRole && t.key == "gate" {
				b.req.Asks = nil
				b.req.Acts = append(b.req.Acts, Act{Name: "returns", Text: t.text, At: b.span(i, i+2)})
				return
			}
		}
	}
}
