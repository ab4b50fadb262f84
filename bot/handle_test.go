package bot_test

import "testing"

func TestWhatIfsAreNotRemembered(t *testing.T) {
	newTalk(t).run(
		said{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "answered topic:load area_per_load=0.428571 seed_per_load(annual_ryegrass)=5.14286"},
		said{"and at 8000?", "answered area_per_load=0.375 note:what_if knows:application_rate=7000 given:application_rate=8000/said given:tank_volume=3000/remembered"},
		said{"half a tank?", "answered topic:part_load load_volume=1500 area_per_load=0.214286 seed_per_load(annual_ryegrass)=2.57143 knows:load_volume=none"},
		said{"what about oats at 40?", "answered seed_per_load(oats)=17.1429 knows:seed_rate(oats)=none knows:seed_rate(annual_ryegrass)=12"},
		said{"same with the 4000 tank", "answered area_per_load=0.571429 knows:tank_volume=3000"},
		said{"how many acres per load", "answered area_per_load=0.428571 given:tank_volume=3000/remembered given:application_rate=7000/remembered"},
	)
}

func TestStatementsAreRemembered(t *testing.T) {
	newTalk(t).run(
		said{"my tank is 4000", "done act:remembered topic:setup knows:tank_volume=4000"},
		said{"7000 per acre", "done knows:application_rate=7000 area_per_load=0.571429"},
		said{"make it 8000", "done knows:application_rate=8000 area_per_load=0.5"},
		said{"12 ft tool", "done knows:width=12"},
		said{"pump 1600 gpm", "done knows:pump_flow=1600"},
		said{"3 mph", "done knows:speed=3"},
		said{"what's my setup", "answered act:setup_shown given:tank_volume=4000/remembered given:application_rate=8000/remembered given:pump_flow=1600/remembered given:width=12/remembered"},
		said{"what's my tank?", "answered given:tank_volume=4000/remembered"},
		said{"forget the pump", "done act:forgot knows:pump_flow=none knows:tank_volume=4000"},
		said{"forget everything", "done act:forgot_all knows:tank_volume=none knows:width=none"},
	)
}

func TestOneQuestionBackIsAnsweredInAWord(t *testing.T) {
	for name, turns := range map[string][]said{
		"missing quantity, by a number": {
			{"3000 gallon tank, how many acres per load", "asks missing:application_rate"},
			{"7000", "answered area_per_load=0.428571 given:application_rate=7000/said given:tank_volume=3000/remembered"}},
		"missing quantity, with its unit": {
			{"7000 per acre, how many acres per load", "asks missing:tank_volume"},
			{"3000 gallons", "answered area_per_load=0.428571"}},
		"in words": {
			{"3000 gallon tank, how many acres per load", "asks missing:application_rate"},
			{"seven thousand", "answered area_per_load=0.428571"}},
		"two in a row": {
			{"how many loads for 40 acres", "asks missing:tank_volume"},
			{"3000", "asks missing:application_rate"},
			{"7000", "answered loads=93.3333"}},
		"two readings, by the unit": {
			{"7000 gallons", "asks problem:ambiguous"},
			{"gallons an acre", "done knows:application_rate=7000 knows:tank_volume=none"}},
		"two readings, by the thing": {
			{"7000 gallons", "asks problem:ambiguous"},
			{"the tank", "done knows:tank_volume=7000 knows:application_rate=none"}},
		"rye or ryegrass": {
			{"3000 gal tank, 7000 per acre, rye 12 lb", "asks problem:rye_or_ryegrass area_per_load=0.428571"},
			{"ryegrass", "answered seed_per_load(annual_ryegrass)=5.14286 knows:seed_rate(annual_ryegrass)=12"}},
		"another value of one of the readings": {
			{"7000 gallons", "asks problem:ambiguous"},
			{"no the tank is 4000", "done knows:tank_volume=4000"}},
		"the grass": {
			{"3000 gal tank, 7000 per acre, rye 15 lb", "asks problem:rye_or_ryegrass"},
			{"the grass", "answered seed_per_load(annual_ryegrass)=6.42857"}},
		"which clover": {
			{"3000 gal tank, 7000 per acre, clover 8 lb", "asks problem:which_crop area_per_load=0.428571"},
			{"crimson", "answered seed_per_load(crimson_clover)=3.42857"}},
		"one of two values": {
			{"3000 gallon tank, 7000 or 8000 per acre", "asks problem:which_of_two"},
			{"8000", "knows:application_rate=8000"}},
		"Spanish": {
			{"tanque de 3000 galones, cuantos acres por carga", "asks missing:application_rate lang:es"},
			{"siete mil", "answered area_per_load=0.428571 lang:es"}},
		"never mind": {
			{"3000 gallon tank, how many acres per load", "asks missing:application_rate"},
			{"never mind", "done act:dropped"},
			{"yes", "not_understood problem:nothing_pending"}},
		"something else": {
			{"7000 gallons", "asks problem:ambiguous"},
			{"convert 40 acres to hectares", "answered topic:convert"},
			{"the tank", "knows:tank_volume=none"}},
		"an absurd answer": {
			{"3000 gallon tank, how many acres per load", "asks missing:application_rate"},
			{"0", "refused problem:not_positive"},
			{"7000", "area_per_load=0.428571 knows:application_rate=7000"}},
	} {
		t.Run(name, func(t *testing.T) { newTalk(t).run(turns...) })
	}
}

func TestOldFactsAreAskedAbout(t *testing.T) {
	k := newTalk(t)
	k.run(
		said{"3000 gallon tank, 7000 per acre", "answered"},
		said{"[+20h] how many acres per load", "answered area_per_load=0.428571"},
		said{"[+6h] how many acres per load", "asks problem:old_fact says:yes"},
		said{"yes", "answered area_per_load=0.428571"},
		said{"how many acres per load", "answered area_per_load=0.428571"},
		said{"[+30h] how many acres per load", "asks problem:old_fact"},
		said{"4000", "asks problem:old_fact area_per_load=0.571429 knows:tank_volume=4000"},
		said{"yes", "answered area_per_load=0.571429"},
	)
}

func TestUnusualValuesAreConfirmed(t *testing.T) {
	k := newTalk(t)
	k.run(
		said{"3000 gallon tank, 7000 per acre", "answered"},
		said{"log load, 120 gallons per acre", "asks problem:confirm_unusual note:unusual_value"},
	)
	if n := len(k.rows()); n > 0 {
		t.Errorf("%d loads were logged before the value was confirmed", n)
	}
	k.run(said{"yes", "done act:logged load_count=1"})
	if n := len(k.rows()); n != 1 {
		t.Errorf("%d loads after the yes", n)
	}
	k = newTalk(t)
	k.run(
		said{"3000 gallon tank, 7000 per acre", "answered"},
		said{"log load, 120 gallons per acre", "asks problem:confirm_unusual"},
		said{"no", "done act:dropped"},
		said{"log load, 700000 gallons per acre", "refused problem:absurd"},
		said{"tank is 150 gallons", "note:unusual_value knows:tank_volume=3000"},
		said{"log load 5000 gallons", "asks problem:over_full"},
		said{"never mind", "done act:dropped"},
	)
	if n := len(k.rows()); n > 0 {
		t.Errorf("%d loads were logged", n)
	}
}

func TestLog(t *testing.T) {
	k := newTalk(t)
	k.run(
		said{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "answered"},
		said{"log load", "done act:logged topic:log load_count=1 area_done=0.428571 volume_used=3000 seed_used(annual_ryegrass)=5.14286"},
		said{"half load", "done act:logged load_count=1.5 volume_used=4500"},
		said{"log 2 loads", "done act:logged load_count=3.5 volume_used=10500 area_done=1.5"},
		said{"log load 1800 gallons", "done act:logged volume_used=12300"},
		said{"undo", "done act:undone load_count=3.5 volume_used=10500"},
		said{"undo", "done act:undone load_count=1.5"},
		said{"load done at 8:30", "done act:logged load_count=2.5"},
		said{"correct last load to 2500 gallons", "done act:corrected volume_used=7000"},
		said{"log load ten minutes ago", "done act:logged"},
		said{"log load yesterday at 4:10 pm", "done act:logged load_count=4.5"},
		said{"totals", "answered act:totals load_count=4.5"},
		said{"totals today", "answered act:totals load_count=3.5"},
		said{"totals this season", "answered act:totals load_count=4.5 volume_used=13000"},
		said{"don't log that", "asks problem:negated"},
		said{"note gate stuck at the road", "done act:noted"},
	)
	rows := k.rows()
	stand, cancelled := 0, 0
	for _, r := range rows {
		if r.Cancelled.IsZero() {
			stand++
		} else {
			cancelled++
		}
		if r.Who.Name != "Sam" || r.Said.IsZero() || r.Rate != 7000 {
			t.Errorf("row %+v", r.Load)
		}
	}
	if stand != 5 || cancelled != 5 {
		t.Errorf("%d rows stand and %d are cancelled", stand, cancelled)
	}
	if last := rows[len(rows)-1]; last.Note != "gate stuck at the road" || last.When.Day() != 9 || last.When.Hour() != 16 || last.When.Minute() != 10 {
		t.Errorf("the noted load is %+v", last.Load)
	}
	for _, r := range rows {
		if r.Volume == 2500 && (r.When.Hour() != 8 || r.When.Minute() != 30) {
			t.Errorf("a corrected load keeps its time: %v", r.When)
		}
	}
}

func TestUndoWithNothingLogged(t *testing.T) {
	newTalk(t).run(said{"undo", "refused problem:nothing_to_undo"}, said{"correct last load to 2500 gallons", "refused problem:nothing_to_correct"})
}

func TestFields(t *testing.T) {
	newTalk(t).run(
		said{"3000 gallon tank, 7000 per acre", "answered"},
		said{"new field north 40, 40 acres", "done act:field_started knows:area=40 load_count=0"},
		said{"log 3 loads", "done act:logged load_count=3 area_left=38.7143"},
		said{"new field river piece, 12 acres", "done act:field_started load_count=0 knows:area=12"},
		said{"log load", "done act:logged load_count=1 area_left=11.5714 loads_left=27"},
		said{"back to north 40", "done act:field_switched load_count=3"},
		said{"what's left", "answered area_left=38.7143 loads_left=90.3333"},
		said{"log load on river piece", "done act:logged load_count=2"},
		said{"call it bottom ground", "done act:field_named"},
		said{"list fields", "answered act:fields_listed says:bottom_ground says:north_40"},
		said{"close field", "done act:field_closed says:bottom_ground"},
		said{"switch to north 40", "done act:field_switched load_count=3"},
		said{"log load", "done act:logged load_count=4"},
		said{"undo", "done act:undone load_count=3"},
		said{"switch to field moon", "asks problem:no_field says:north_40"},
		said{"totals this season", "answered load_count=5"},
	)
}
