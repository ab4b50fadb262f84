package chart

import (
	"fmt"
	"slices"
	"strings"

	"github.com/go-analyze/charts"

	"tankside/engine"
)

// mostNumbered is how many jars have room for their count over the bar.
const mostNumbered = 14

// jars draws each jar's count as a bar, over the band in which chance alone puts 19
// of 20 jars.
func (c *canvas) jars(j *engine.JarSeries) (string, error) {
	s, err := engine.SpreadOf(j.Counts)
	if err != nil {
		return "", err
	}
	lo, hi, err := engine.ChanceBand(s.Mean)
	if err != nil {
		return "", err
	}
	w := c.words
	verdict := w.likeChance
	if s.Uneven() {
		verdict = w.likeNot
	}
	chance := fmt.Sprintf(w.chance, number(lo, 0), number(hi, 0))
	c.header(w.jarsTitle, verdict+" · "+fmt.Sprintf(w.mean, number(s.Mean, 1)))
	signs := []sign{{text: chance, color: pale, area: true}, {text: fmt.Sprintf(w.mean, number(s.Mean, 1)), color: ink, dashed: true}}
	if slices.Min(j.Counts) < lo || slices.Max(j.Counts) > hi {
		signs = append(signs, sign{text: w.outside, color: signal, area: true})
	}
	c.legend(signs...)
	c.drawJars(j.Counts, s.Mean, lo, hi)
	return c.jarsCaption(j.Counts, &s, verdict, chance, lo, hi), nil
}

func (c *canvas) drawJars(counts []float64, mean, lo, hi float64) {
	n := float64(len(counts))
	y := scaleFor(max(slices.Max(counts), hi)*1.06, 6).whole()
	var marks []mark
	every := (len(counts) + 11) / 12
	for i := 0; i < len(counts); i += every {
		marks = append(marks, mark{float64(i) + 0.5, number(float64(i+1), 0)})
	}
	f := c.axes(c.words.seeds, c.words.jar, y, 0, n, marks, func(v float64) string { return number(v, 0) })
	c.rect(f.left+2, f.y(hi), right, min(f.y(lo), f.foot-2), pale)
	c.line([]charts.Point{{X: f.left + 2, Y: f.y(mean)}, {X: right, Y: f.y(mean)}}, sign{color: ink, dashed: true}) // behind the bars, or it hides where they end
	half := max(2, int(0.3*float64(f.x(1)-f.x(0))))
	for i, v := range counts {
		color := deep
		if v < lo || v > hi {
			color = signal
		}
		x := f.x(float64(i) + 0.5)
		c.rect(x-half, min(f.y(v), f.foot-2), x+half, f.foot-2, color)
	}
	for i, v := range counts {
		if len(counts) <= mostNumbered {
			c.countOn(f, f.x(float64(i)+0.5), v)
		}
	}
}

// countOn writes a jar's count in its bar, or over one that is too low for it.
func (c *canvas) countOn(f *frame, x int, v float64) {
	y, color := f.foot-16, paper
	if f.foot-f.y(v) < 48 {
		y, color = f.y(v)-10, ink
	}
	c.text(number(v, 0), x, y, 90, style{small, true, color}, centred)
}

func (c *canvas) jarsCaption(counts []float64, s *engine.Spread, verdict, chance string, lo, hi float64) string {
	w := c.words
	var all, out []string
	for i, v := range counts {
		all = append(all, number(v, 0))
		if v < lo || v > hi {
			out = append(out, fmt.Sprintf("%d (%s)", i+1, number(v, 0)))
		}
	}
	where := w.inside
	if len(out) > 0 {
		where = fmt.Sprintf(w.outsideAre, strings.Join(out, ", "))
	}
	return fmt.Sprintf("%s. %s; %s, CV %s %%; %s. %s", verdict, fmt.Sprintf(w.jarsCount, len(counts), strings.Join(all, ", ")),
		fmt.Sprintf(w.mean, number(s.Mean, 1)), number(100*float64(s.CV), 0), chance, where)
}
