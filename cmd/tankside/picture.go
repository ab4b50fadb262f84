package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/engine"
	"tankside/phrases/chart"
)

type drawPicture struct {
	logFlags
	Kind   string    `arg:"" enum:"day,fields,gate,jars,tank" help:"day: loads and pace. fields: how far they are. gate: runs, curve and a chosen point. jars: counts and what chance allows. tank: mixing through a load."`
	Out    string    `name:"out" short:"o" required:"" placeholder:"FILE" help:"PNG file to write."`
	Day    string    `name:"day" placeholder:"DAY" help:"For day: as 2026-09-14. Without it, today."`
	Flow   float64   `name:"flow" placeholder:"N" help:"For gate: the flow that is wanted, in the chat's unit."`
	Counts []float64 `name:"counts" placeholder:"N,N,N" help:"For jars: seeds counted in each jar, in the order taken."`
	Lang   string    `name:"lang" enum:"en,es," default:"" placeholder:"LANG" help:"en or es. Without it, the chat's language."`
}

// Run draws a picture to a file and says what it shows.
func (c *drawPicture) Run(t *term) (err error) {
	ctx := context.Background()
	s, err := c.open(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	now := time.Now()
	memory, book, _, err := s.Load(ctx, c.Chat, 0, now)
	if err != nil {
		return err
	}
	p, err := c.picture(ctx, s, &memory, &book, now)
	if err != nil {
		return err
	}
	lang := c.Lang
	if lang == "" {
		lang = memory.Lang
	}
	drawn, err := chart.Draw(lang, memory.Units, p)
	if err != nil {
		return fmt.Errorf("cannot draw that: %w", err)
	}
	err = writeFile(c.Out, func(w io.Writer) error { _, err := w.Write(drawn.PNG); return err })
	if err == nil {
		fmt.Fprintln(t.Out, drawn.Caption)
	}
	return err
}

// picture gathers what the kind asks for; nothing to show is said with what to do.
func (c *drawPicture) picture(ctx context.Context, s *store.Store, m *bot.Memory, b *bot.Book, now time.Time) (p *engine.Picture, err error) {
	hint := ""
	switch c.Kind {
	case "day":
		hint = "choose another day with --day"
		p, err = c.day(ctx, s, m, now)
	case "fields":
		hint = `no field is open: say "start field creek, 12 acres" in the chat`
		p = bot.FieldsPicture(m, b)
	case "gate":
		hint = `no run is recorded: say "gate 4 gives 620 gpm" in the chat`
		p, err = c.gate(m)
	case "jars":
		hint = "give three counts or more: --counts 42,38,45"
		p = bot.JarsPicture(c.Counts)
	case "tank":
		hint = "the chat has to know the tank, the pump and the flow out of the back, and the pump has to give more than goes out"
		p = bot.TankPicture(m)
	}
	if err == nil && p == nil {
		err = hinted{errors.New("there is nothing to draw"), hint}
	}
	return p, err
}

func (c *drawPicture) day(ctx context.Context, s *store.Store, m *bot.Memory, now time.Time) (*engine.Picture, error) {
	zone := now.Location()
	if m.Zone != "" {
		known, err := time.LoadLocation(m.Zone)
		if err != nil {
			return nil, err
		}
		zone = known
	}
	day := now.In(zone)
	if c.Day != "" {
		said, err := time.ParseInLocation(time.DateOnly, c.Day, zone)
		if err != nil {
			return nil, hinted{fmt.Errorf("%q is no day", c.Day), "write it as " + now.Format(time.DateOnly)}
		}
		day = said
	}
	from := time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, zone)
	loads, err := s.Past(ctx, c.Chat, bot.Recall{From: from, To: from.AddDate(0, 0, 1)})
	if err != nil {
		return nil, err
	}
	return bot.DayPicture(loads, onlyField(loads), bot.TargetPace(m)), nil
}

// onlyField is the field that all the loads are of.
func onlyField(loads []bot.Load) string {
	for _, l := range loads {
		if l.FieldName != loads[0].FieldName {
			return ""
		}
	}
	if len(loads) == 0 {
		return ""
	}
	return loads[0].FieldName
}

func (c *drawPicture) gate(m *bot.Memory) (*engine.Picture, error) {
	flow := m.Units.UnitFor(engine.Flow).ToBase(c.Flow)
	p := bot.GatePicture(m, 0, 0)
	if p == nil || c.Flow == 0 {
		return p, nil
	}
	curve, err := engine.NewCurve(p.Gate.Runs)
	if err != nil {
		return nil, err
	}
	opening, err := curve.OpeningFor(flow)
	if err != nil {
		return nil, hinted{errors.New("that flow is outside the recorded runs"), "record a run beyond it first"}
	}
	return bot.GatePicture(m, opening, flow), nil
}
