package engine

import "testing"

// Judgements worked by hand: a quart of 60 lb × 18,000 seeds/lb ÷ 7,000 gal holds 38.57,
// and chance gives 38.57 ± 2 × 6.21 = 26.15 to 50.99; two jars 77.14 ± 2 × 8.78 = 59.58 to
// 94.71 in all; four 154.29 ± 2 × 12.42 = 129.44 to 179.13.
func TestCountsAreJudgedByChance(t *testing.T) {
	given := "jar_volume=1_qt seed_rate(cereal_rye)=60_lb/acre application_rate=7000_gal/acre "
	for counts, want := range map[string]string{
		"26": "count_low", "27": "count_fits", "50": "count_fits", "51": "count_high",
		"29,30": "count_low", "30,30": "count_fits", "47,47": "count_fits", "47,48": "count_high",
		"29,41,22,35": "count_low", "33,32,33,32": "count_fits",
	} {
		r := Answer([]Topic{TopicSamples}, facts(t, given+eachCount(counts)), nil)
		if got := judged(&r); got != want || r.Problem != "" || len(r.Missing) > 0 {
			t.Errorf("%s: %s, want %s (%s, missing %v)", counts, got, want, r.Problem, r.Missing)
		}
	}
}

// A pint of 1 lb × 18,000 ÷ 9,000 gal: 0.25 expected, and nothing is too few.
func TestNoCountIsLowWhereNoneIsExpected(t *testing.T) {
	r := Answer([]Topic{TopicSamples}, facts(t, "jar_volume=1_pt seed_rate(cereal_rye)=1_lb/acre application_rate=9000_gal/acre sample_count=0_"), nil)
	if got := judged(&r); got != "count_small" {
		t.Errorf("none of 0.25: %q", got)
	}
}

// A rate said as a range is low only below its lower end: a quart at 50 lb holds 32.14,
// down to 20.8 by chance; at 60 lb 26.15 is the least.
func TestRangeIsJudgedByItsOwnEnds(t *testing.T) {
	for counts, want := range map[string]string{"20": "count_low", "22": "count_fits", "50": "count_fits", "52": "count_high"} {
		r := Answer([]Topic{TopicSamples}, facts(t, "jar_volume=1_qt seed_rate(cereal_rye)=50..60_lb/acre application_rate=7000_gal/acre "+eachCount(counts)), nil)
		if got := judged(&r); got != want {
			t.Errorf("%s: %s, want %s", counts, got, want)
		}
	}
}

// Nothing is said of a count while something lacks, and the jar is asked for first.
func TestJarAsksForWhatLacks(t *testing.T) {
	for text, want := range map[string]Slot{
		"sample_count=14_ jar_volume=1_qt":                                                 ApplicationRate,
		"sample_count=14_ jar_volume=1_qt application_rate=7000_gal/acre":                  SeedRate,
		"sample_count=14_ seed_rate(cereal_rye)=60_lb/acre application_rate=7000_gal/acre": JarVolume,
	} {
		r := Answer([]Topic{TopicSamples}, facts(t, text), nil)
		if len(r.Missing) == 0 || r.Missing[0] != want || judged(&r) != "" {
			t.Errorf("%s: missing %v, want %s first", text, r.Missing, want)
		}
	}
}

func eachCount(counts string) string {
	out, n := "", ""
	for _, c := range counts + "," {
		if c == ',' {
			out, n = out+" sample_count="+n+"_", ""
			continue
		}
		n += string(c)
	}
	return out
}

// judged is the verdict on the counts; empty: none, or more than one.
func judged(r *Reckoning) string {
	got := ""
	for _, n := range r.Notes {
		switch n.ID {
		case "count_low", "count_fits", "count_high", "count_small":
			if got != "" {
				return ""
			}
			got = n.ID
		}
	}
	return got
}
