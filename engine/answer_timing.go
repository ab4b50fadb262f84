package engine

import (
	"strings"
	"time"
)

// Timing is when a crop is best seeded: counted back from the first frost where that is
// known, else as published for places.
type Timing struct {
	Of       string
	Frost    time.Time // zero: not said
	Weeks    Band      // ahead of it; not known for every crop
	From, To time.Time // Frost less Weeks
	Today    time.Time
	Sow      time.Time // the day that was asked about; zero: today
	Windows  []Window  // published, of the place that was said or of any
}

// timing puts when a crop is best seeded, where that is asked for. Without a frost or a
// place it is asked for: the published windows are then examples.
func (w *work) timing(c *Crop) {
	if !w.c.Timing {
		return
	}
	t := Timing{Of: c.Name, Today: w.c.Today, Sow: w.c.Sow, Weeks: c.FrostWeeks}
	for _, x := range c.Windows {
		if w.c.Place == "" || strings.Contains(x.Place, w.c.Place) {
			t.Windows = append(t.Windows, x)
		}
	}
	if !w.c.Frost.IsZero() {
		t.Frost = w.c.Frost
		t.From, t.To, _ = c.SeedBy(t.Frost)
	}
	placed := w.c.Place != "" && len(t.Windows) > 0
	if t.Frost.IsZero() && !placed && (c.FrostWeeks.Known() || len(c.Windows) > 0) {
		w.fail(&Problem{Code: FrostNeeded, Slot: CropSaid, Of: c.Name})
	}
	w.out.Timings = append(w.out.Timings, t)
}
