package chart

import (
	"fmt"
	"strings"

	"github.com/go-analyze/charts"

	"tankside/engine"
)

// gate draws the flow over the gate's marks: the recorded runs, the curve between
// them, never beyond, and the point that was chosen.
func (c *canvas) gate(g *engine.GateSeries) (string, error) {
	curve, err := engine.NewCurve(g.Runs)
	if err != nil {
		return "", err
	}
	w := c.words
	line, caption := c.gateText(g)
	c.header(w.gateTitle, line)
	signs := []sign{{text: w.recorded, color: deep, dot: true}, {text: w.curve, color: deep}}
	points := curve.Line(30)
	if len(points) == 1 {
		signs = signs[:1]
	}
	if g.Flow > 0 {
		signs = append(signs, sign{text: w.chosen, color: signal, dashed: true})
	}
	c.legend(signs...)
	wide, high := g.Opening, g.Flow
	for _, r := range g.Runs {
		wide, high = max(wide, r.Opening), max(high, r.Flow)
	}
	x, y := scaleFor(wide*1.05, 8), scaleFor(c.in(engine.Flow, high)*1.02, 6)
	f := c.axes(c.unitOf(engine.Flow), w.gateMark, y, 0, x.end, x.marks(func(v float64) string { return number(v, 2) }), func(v float64) string { return number(v, 1) })
	f.gate(g, points)
	return w.gateTitle + ": " + caption, nil
}

func (c *canvas) gateText(g *engine.GateSeries) (line, caption string) {
	w := c.words
	line = fmt.Sprintf(w.gateRuns, len(g.Runs))
	if len(g.Runs) == 1 {
		line = w.gateNoCurve
	}
	if g.Flow > 0 {
		line = fmt.Sprintf(w.gateGives, number(g.Opening, 2), c.amount(engine.Flow, g.Flow))
		caption = line + ". "
	}
	var runs []string
	for _, r := range g.Runs {
		runs = append(runs, number(r.Opening, 2)+" → "+number(c.in(engine.Flow, r.Flow), 0))
	}
	return line, caption + w.recorded + " (" + w.gateMark + " → " + c.unitOf(engine.Flow) + "): " + strings.Join(runs, ", ") + "."
}

func (f *frame) gate(g *engine.GateSeries, points []engine.Run) {
	at := func(r engine.Run) charts.Point { return f.at(r.Opening, f.c.in(engine.Flow, r.Flow)) }
	var curve []charts.Point
	for _, r := range points {
		curve = append(curve, at(r))
	}
	if len(curve) > 1 {
		f.c.line(curve, sign{color: deep})
	}
	p := at(engine.Run{Opening: g.Opening, Flow: g.Flow})
	if g.Flow > 0 {
		guide := sign{color: signal, dashed: true}
		f.c.line([]charts.Point{{X: f.left, Y: p.Y}, p}, guide)
		f.c.line([]charts.Point{p, {X: p.X, Y: f.foot}}, guide)
	}
	for _, r := range g.Runs {
		q := at(r)
		f.c.dot(q.X, q.Y, deep)
	}
	if g.Flow > 0 {
		f.c.diamond(p.X, p.Y)
	}
}
