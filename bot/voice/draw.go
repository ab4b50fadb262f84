package voice

import "math/rand/v2"

// draw says a rule once, by chance and weight, appended to said.
func (g grammar) draw(chance *rand.Rand, name string, said []string) []string {
	return g.drawNode(chance, g[name], said)
}

func (g grammar) drawNode(chance *rand.Rand, n *node, said []string) []string {
	switch n.kind {
	case word:
		return append(said, n.text)
	case rule:
		if n.text == "NULL" {
			return said
		}
		return g.draw(chance, n.text, said)
	case option:
		if chance.IntN(2) == 0 {
			return said
		}
		return g.drawNode(chance, n.parts[0], said)
	case choice:
		return g.drawNode(chance, n.pick(chance), said)
	}
	for _, p := range n.parts {
		said = g.drawNode(chance, p, said)
	}
	return said
}

func (n *node) pick(chance *rand.Rand) *node {
	var sum float64
	for _, p := range n.parts {
		sum += p.weight
	}
	at := chance.Float64() * sum
	for _, p := range n.parts {
		if at -= p.weight; at < 0 {
			return p
		}
	}
	return n.parts[len(n.parts)-1]
}

// sentences draws from <message>. The seed is fixed: the same words give the same
// model on every machine.
func (g grammar) sentences(count int) [][]string {
	chance := rand.New(rand.NewPCG(1, 2))
	list := make([][]string, count)
	for i := range list {
		list[i] = g.draw(chance, "message", nil)
	}
	return list
}
