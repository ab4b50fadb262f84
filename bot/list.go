package bot

import (
	"slices"
	"strings"

	"tankside/engine"
)

// listLoads reads single loads back, newest first: the one named by its number, the last
// few, those of a field, else the day's; where nothing was logged today, the latest.
func (t *turn) listLoads() bool {
	t.topic(engine.TopicLog)
	if len(t.book.Recent) == 0 {
		t.out.Status, t.out.Act = engine.Answered, engine.ActLoadsListed
		t.tellLog("all", Totals{})
		return true
	}
	loads := t.book.Recent
	if f := t.findField(t.req.Field); f != nil {
		loads = slices.DeleteFunc(slices.Clone(loads), func(l Load) bool { return l.Field != f.ID })
	}
	switch n := t.said.First(engine.LoadCount); {
	case t.req.Ordinal > 0:
		l, ok := t.loadMeant()
		if !ok {
			return t.noLoad()
		}
		loads = []Load{l}
	case n != nil:
		loads = loads[:min(len(loads), max(1, int(n.Min)))]
	case onlyLast(t.act("loads_list").Text):
		loads = loads[:min(1, len(loads))]
	default:
		if today := t.todays(loads); len(today) > 0 {
			loads = today
		}
	}
	var sum Totals
	for _, l := range loads {
		sum = sum.Plus(l)
	}
	t.out.Status, t.out.Act = engine.Answered, engine.ActLoadsListed
	t.tellLog("all", sum)
	for _, l := range loads {
		t.out.Log.Lines = append(t.out.Log.Lines, lineOf(l))
	}
	return true
}

// onlyLast says whether the words ask for the last load, not the last ones.
func onlyLast(words string) bool {
	return strings.Contains(words+" ", "last load ") || strings.HasSuffix(words, "last load time") || strings.Contains(words+" ", "ultima ")
}

// todays are the loads of the message's day.
func (t *turn) todays(loads []Load) (out []Load) {
	year, day := t.msg.At.Year(), t.msg.At.YearDay()
	for _, l := range loads {
		if at := l.When.In(t.msg.At.Location()); at.YearDay() == day && at.Year() == year {
			out = append(out, l)
		}
	}
	return out
}
