package store

import (
	"strings"
	"testing"

	"tankside/bot"
)

// A log from before there were sums by year gets them from its days.
func TestYearsFromDays(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		for i := range int64(40) {
			at := noon.AddDate(0, 0, -int(i*17)) // back into the year before
			apply(t, s, chatA+i%2, i+1, bot.Memory{Field: 1}, bot.Effect{Add: load(i+1, 0, i%3, at)})
		}
		_, rows, _ := get(t, s, chatA, 0, noon)
		cancelled := rows.Recent[3]
		apply(t, s, chatA, 100, bot.Memory{Field: 1}, bot.Effect{Cancel: &cancelled, Why: "undo"})
		read := func() (all []bot.Book) {
			for _, chat := range []int64{chatA, chatA + 1} {
				for _, years := range []int{0, -1} {
					_, b, _ := get(t, s, chat, 0, noon.AddDate(years, 0, 0))
					all = append(all, b)
				}
			}
			return all
		}
		kept := read()
		for _, text := range []string{"delete from sums where scope = 'year'", "delete from seed_sums where scope = 'year'"} {
			if _, err := s.write.Exec(text); err != nil {
				t.Fatal(err)
			}
		}
		if b := read()[0]; b.Season.Count != 0 {
			t.Fatalf("the years are still there: %+v", b.Season)
		}
		step, err := migrations.ReadFile("migrations/" + s.name + "/0004_years.sql")
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range strings.Split(string(step), ";\n") {
			if _, err := s.write.Exec(text); strings.TrimSpace(text) != "" && err != nil {
				t.Fatalf("%s: %v", text, err)
			}
		}
		made := read()
		for i := range kept { // added up in another order
			for _, b := range []*bot.Totals{&kept[i].Season, &made[i].Season} {
				b.Area, b.Volume = float64(int(b.Area*1e6+0.5)), float64(int(b.Volume*1e6+0.5))
				for k := range b.Seeds {
					b.Seeds[k].Weight = float64(int(b.Seeds[k].Weight*1e6 + 0.5))
				}
			}
		}
		mustEqual(t, "books", kept, made)
	})
}
