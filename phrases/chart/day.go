package chart

import (
	"fmt"
	"math"
	"time"

	"github.com/go-analyze/charts"

	"tankside/engine"
)

// mostDots is how many loads get a mark of their own.
const mostDots = 40

// day draws the loads of a day as a staircase over the hours, with the line of the
// pace that was wanted.
func (c *canvas) day(d *engine.DaySeries) (string, error) {
	loads := d.Summed()
	if len(loads) == 0 {
		return "", errNothing
	}
	w := c.words
	first, last := loads[0], loads[len(loads)-1]
	title := fmt.Sprintf(w.dayTitle, w.day(first.At))
	if d.Field != "" {
		title = fmt.Sprintf(w.dayIn, w.day(first.At), d.Field)
	}
	line, caption := c.dayText(d, first, last)
	c.header(title, line)
	if d.Target > 0 {
		c.legend(sign{text: fmt.Sprintf(w.target, number(float64(d.Target), 1)), color: signal, dashed: true})
	}
	f := c.hours(first.At, last.At, math.Max(last.Loads, d.Wanted(last.At)))
	f.staircase(loads)
	if d.Target > 0 {
		c.line([]charts.Point{f.at(hourOf(first.At, first.At), first.Loads), f.at(hourOf(first.At, last.At), d.Wanted(last.At))},
			sign{color: signal, dashed: true})
	}
	if len(loads) <= mostDots {
		for _, m := range loads {
			p := f.at(hourOf(first.At, m.At), m.Loads)
			c.dot(p.X, p.Y, deep)
		}
	}
	return title + ". " + caption, nil
}

// dayText is what the day comes to: the line over the picture, and the caption.
func (c *canvas) dayText(d *engine.DaySeries, first, last engine.LoadMark) (line, caption string) {
	w := c.words
	line = w.loadsOf(last.Loads)
	caption = fmt.Sprintf(w.dayFrom, line, w.clock(first.At), w.clock(last.At))
	if pace, err := d.Pace(); err == nil {
		line += " · " + fmt.Sprintf(w.anHour, number(float64(pace), 1))
		caption += ", " + fmt.Sprintf(w.pace, number(float64(pace), 1))
	}
	caption += "."
	if d.Target <= 0 {
		return line, caption
	}
	wanted := d.Wanted(last.At)
	verdict := w.even
	switch off := math.Round((last.Loads-wanted)*10) / 10; {
	case off < 0:
		verdict = fmt.Sprintf(w.behind, number(-off, 1))
	case off > 0:
		verdict = fmt.Sprintf(w.ahead, number(off, 1))
	}
	return line + " · " + verdict, caption + " " + fmt.Sprintf(w.targetIs, number(float64(d.Target), 1), w.loadsOf(wanted), verdict)
}

// hourOf is the hours since the midnight before the first load.
func hourOf(first, t time.Time) float64 {
	midnight := time.Date(first.Year(), first.Month(), first.Day(), 0, 0, 0, 0, first.Location())
	return t.Sub(midnight).Hours()
}

// hours is a frame from the full hour before the first load to that after the last.
func (c *canvas) hours(first, last time.Time, most float64) *frame {
	from, to := math.Floor(hourOf(first, first)), math.Ceil(hourOf(first, last))
	if to-from < 2 {
		to = from + 2
	}
	step := math.Ceil((to - from) / 7)
	var marks []mark
	for h := from; h <= to; h += step {
		clock := time.Date(first.Year(), first.Month(), first.Day(), int(h), 0, 0, 0, time.UTC)
		marks = append(marks, mark{h, clock.Format("3 pm")})
	}
	return c.axes(c.words.done, c.words.timeOf, scaleFor(most*1.05, 6).whole(), from, to, marks, func(v float64) string { return number(v, 0) })
}

// staircase fills below the loads and draws their steps.
func (f *frame) staircase(loads []engine.LoadMark) {
	start := loads[0].At
	steps := []charts.Point{f.at(hourOf(start, start), 0)}
	height := 0.0
	for _, m := range loads {
		x := hourOf(start, m.At)
		steps = append(steps, f.at(x, height), f.at(x, m.Loads))
		height = m.Loads
	}
	end := steps[len(steps)-1]
	area := append(append([]charts.Point{}, steps...), charts.Point{X: end.X, Y: f.foot}, steps[0])
	f.c.p.FillArea(area, pale)
	f.c.line(steps, sign{color: deep})
}
