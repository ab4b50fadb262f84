package store

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/bottest"
)

func TestPast(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) { pastOf(t, s) })
	t.Run("fake", func(t *testing.T) { pastOf(t, new(bottest.Store)) }) // it is the measure elsewhere
}

// recaller is a store that answers about the past.
type recaller interface {
	Apply(ctx context.Context, chat, id int64, m bot.Memory, effects []bot.Effect, r *bot.Reply) error
	Past(ctx context.Context, chat int64, r bot.Recall) ([]bot.Load, error)
}

func pastOf(t *testing.T, s recaller) {
	for chat := range map[int64]bool{chatA: true, chatB: true} {
		for i := range 6 {
			l := load(int64(i+1), 0, int64(1+i%2), noon.AddDate(0, 0, i))
			if err := s.Apply(ctx, chat, l.ID, bot.Memory{}, []bot.Effect{{Add: l}}, nil); err != nil {
				t.Fatal(err)
			}
		}
		if chat == chatB {
			continue
		}
		if err := s.Apply(ctx, chat, 9, bot.Memory{}, []bot.Effect{{Cancel: load(3, 0, 1, noon), Why: "undo"}}, nil); err != nil {
			t.Fatal(err)
		}
	}
	for name, c := range map[string]struct {
		r    bot.Recall
		want []int64
	}{
		"one field":        {bot.Recall{Fields: []int64{1}}, []int64{1, 5}},
		"two fields":       {bot.Recall{Fields: []int64{2, 1}}, []int64{1, 2, 4, 5, 6}},
		"from":             {bot.Recall{Fields: []int64{1, 2}, From: noon.AddDate(0, 0, 3)}, []int64{4, 5, 6}},
		"up to, without":   {bot.Recall{Fields: []int64{1, 2}, To: noon.AddDate(0, 0, 3)}, []int64{1, 2}},
		"every field":      {bot.Recall{From: noon.Add(time.Minute), To: noon.AddDate(0, 0, 5).Add(time.Minute)}, []int64{2, 4, 5, 6}},
		"every field ever": {bot.Recall{}, []int64{1, 2, 4, 5, 6}},
		"no such field":    {bot.Recall{Fields: []int64{77}}, nil},
	} {
		loads, err := s.Past(ctx, chatA, c.r)
		if err != nil {
			t.Fatal(err)
		}
		var got []int64
		for _, l := range loads {
			got = append(got, l.ID)
			if len(l.Seeds) != 2 || l.Seeds[1].Crop != "oats" || l.Who.Name != "Ann" {
				t.Errorf("%s: %+v", name, l)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: loads %v, want %v", name, got, c.want)
		}
	}
}

// A question about last fall goes down an index, however long the log has grown.
func TestPastGoesDownAnIndex(t *testing.T) {
	s := open(t, ":memory:")
	for text, index := range map[string]string{fieldPast: "loads_field", dayPast: "loads_day"} {
		rows, err := s.read.QueryContext(ctx, "explain query plan "+text, 1, 1, 1, 1, 1)
		if err != nil {
			rows, err = s.read.QueryContext(ctx, "explain query plan "+text, 1, 1, 1, 1)
		}
		if err != nil {
			t.Fatal(err)
		}
		var plan []string
		for rows.Next() {
			var id, parent, unused int
			var step string
			if err := rows.Scan(&id, &parent, &unused, &step); err != nil {
				t.Fatal(err)
			}
			plan = append(plan, step)
		}
		if err := rows.Err(); err != nil {
			t.Fatal(err)
		}
		if all := strings.Join(plan, "; "); !strings.Contains(all, "SEARCH l USING INDEX "+index) || strings.Contains(all, "SCAN") {
			t.Error(all)
		}
	}
}
