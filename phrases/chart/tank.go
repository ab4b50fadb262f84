package chart

import (
	"fmt"
	"math"

	"github.com/go-analyze/charts"

	"tankside/engine"
	"tankside/engine/unit"
)

const (
	tankSteps = 198
	wellMixed = 0.95
)

// tank draws how well mixed the tank is while a load goes out, stirred before the
// gate is opened and not.
func (c *canvas) tank(t *engine.TankSeries) (string, error) {
	first := t.First
	if first == 0 {
		var err error
		if first, err = engine.TimeToMix(t.Tank, t.Pump); err != nil {
			return "", err
		}
	}
	stirred, err := t.Through(first, tankSteps)
	if err != nil {
		return "", err
	}
	not, err := t.Through(0, tankSteps)
	if err != nil {
		return "", err
	}
	w := c.words
	line := fmt.Sprintf(w.stirFirst, number(math.Ceil(float64(first)*10-1e-6)/10, 1), number(100*float64(stirred[0].Mixed), 0))
	c.header(w.tankTitle, line)
	c.legend(sign{text: w.stirred, color: deep}, sign{text: w.notStirred, color: signal, dashed: true}, sign{text: w.wellMixed, color: ink})
	full := c.in(engine.LoadVolume, float64(t.Tank))
	x := scaleFor(full, 6)
	if x.end > full {
		x.end = full // no ground beyond the load
	}
	f := c.axes(w.share, fmt.Sprintf(w.out, c.unitOf(engine.LoadVolume)), scale{100, 20}, 0, x.end,
		x.marks(func(v float64) string { return number(v, 1) }), func(v float64) string { return number(v, 0) })
	c.p.LineStroke([]charts.Point{f.at(0, 95), f.at(full, 95)}, ink, 4)
	c.line(f.mixed(not), sign{color: signal, dashed: true})
	c.line(f.mixed(stirred), sign{color: deep})
	return line + ". " + c.tankCaption(t, not), nil
}

func (f *frame) mixed(points []engine.MixPoint) []charts.Point {
	var out []charts.Point
	for _, p := range points {
		out = append(out, f.at(f.c.in(engine.LoadVolume, float64(p.Out)), 100*float64(p.Mixed)))
	}
	return out
}

// tankCaption tells the flows, and when 95 % is reached without stirring first.
func (c *canvas) tankCaption(t *engine.TankSeries, not []engine.MixPoint) string {
	w := c.words
	bypass, _ := engine.BypassOf(t.Pump, t.Flow) // it was drawn, so it is known
	text := fmt.Sprintf(w.flows, c.amount(engine.TankVolume, float64(t.Tank)), number(c.in(engine.Flow, float64(t.Pump)), 0),
		number(c.in(engine.Flow, float64(t.Flow)), 0), c.amount(engine.Flow, float64(bypass))) + " "
	late := w.never
	for _, p := range not {
		if p.Mixed >= wellMixed {
			late = fmt.Sprintf(w.reachedAt, c.amount(engine.LoadVolume, rough(p.Out)))
			break
		}
	}
	return text + late + " " + w.atBest
}

// rough is a volume to the nearest ten gallons: the formula is no finer.
func rough(v unit.Volume) float64 { return math.Round(float64(v)/10) * 10 }
