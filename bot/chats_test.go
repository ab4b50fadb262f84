package bot_test

import (
	"context"
	"sync"
	"testing"

	"tankside/bot"
	"tankside/bot/bottest"
)

func TestChatsDoNotMix(t *testing.T) {
	a := newTalk(t)
	b := &talk{t: t, bot: a.bot, store: a.store, chat: 2, at: morning}
	a.run(said{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "answered"})
	b.run(said{"cisterna de 10000 litros, 40 m3/ha", "answered lang:es"})
	a.run(said{"new field north 40, 40 acres", "done"}, said{"log 2 loads", "done load_count=2"})
	b.run(said{"anota carga", "done act:logged load_count=1 lang:es"}, said{"cambia al north 40", "knows:area=none"})
	a.run(said{"how many acres per load", "answered area_per_load=0.428571 lang:en"}, said{"undo", "done act:undone load_count=0"})
	b.run(said{"cuantas cargas llevo", "load_count=1"}, said{"deshacer", "done act:undone"}, said{"deshacer", "refused problem:nothing_to_undo"})
	a.run(said{"totals", "load_count=0"})
	if len(a.rows()) != 2 || len(b.rows()) != 1 {
		t.Errorf("%d and %d rows", len(a.rows()), len(b.rows()))
	}
}

// A question that waits in one chat is not answered in another.
func TestPendingQuestionsStayInTheirChat(t *testing.T) {
	a := newTalk(t)
	b := &talk{t: t, bot: a.bot, store: a.store, chat: 2, at: morning}
	a.run(said{"3000 gallon tank, how many acres per load", "asks missing:application_rate"})
	b.run(said{"7000", "asks"})
	a.run(said{"7000", "answered area_per_load=0.428571"})
}

func TestAMessageTwiceIsOneMessage(t *testing.T) {
	k := newTalk(t)
	k.run(said{"3000 gallon tank, 7000 per acre", "answered"})
	first := k.say("log load")
	msg := bot.Message{Chat: k.chat, ID: k.next, Text: "log load", At: k.at}
	for range 3 {
		again, err := k.bot.Handle(context.Background(), msg)
		if err != nil || !again.Repeat || again.Text != first.Text {
			t.Fatalf("the second time: %+v, %v", again, err)
		}
	}
	if n := len(k.rows()); n != 1 {
		t.Errorf("%d loads from one message", n)
	}
	k.run(said{"totals", "load_count=1"})
}

// Many messages of one chat at once are taken one after the other.
func TestOneChatIsInOrder(t *testing.T) {
	store := &bottest.Store{}
	b := bot.New(store)
	send := func(chat, id int64, text string) {
		if _, err := b.Handle(context.Background(), bot.Message{Chat: chat, ID: id, Text: text, At: morning}); err != nil {
			t.Error(err)
		}
	}
	for chat := int64(1); chat <= 3; chat++ {
		send(chat, 1, "3000 gallon tank, 7000 per acre")
	}
	var wait sync.WaitGroup
	for i := int64(2); i < 42; i++ {
		for chat := int64(1); chat <= 3; chat++ {
			wait.Go(func() { send(chat, i, "log load") })
		}
	}
	wait.Wait()
	for chat := int64(1); chat <= 3; chat++ {
		_, book, _, _ := store.Load(context.Background(), chat, 0, morning)
		if book.Field.Loads != 40 {
			t.Errorf("chat %d has %g loads", chat, book.Field.Loads)
		}
		seen := map[int]bool{}
		_ = store.Loads(context.Background(), chat, func(r bot.Row) error {
			if seen[r.Seq] {
				t.Errorf("chat %d: two loads are number %d", chat, r.Seq)
			}
			seen[r.Seq] = true
			return nil
		})
	}
}

func TestLanguage(t *testing.T) {
	newTalk(t).run(
		said{"tanque de 3000 galones", "done lang:es knows:tank_volume=3000"},
		said{"7000", "lang:es"},
		said{"how many acres per load at 7000 per acre", "answered lang:en"},
		said{"en español", "done act:language_set lang:es"},
		said{"how many acres per load", "answered lang:es says:acres_por_carga"},
		said{"speak english", "done act:language_set lang:en"},
		said{"cuantos acres por carga", "answered lang:en says:acres_a_load"},
	)
}

func TestUnits(t *testing.T) {
	newTalk(t).run(
		said{"use metric", "done act:units_set"},
		said{"tank 11000", "done knows:tank_volume=2905.89"},
		said{"rate 40", "done knows:application_rate=4276.27"},
		said{"width 6", "done knows:width=19.685"},
		said{"how many hectares per load", "answered area_per_load=0.67954 says:ha"},
		said{"use us gallons", "done act:units_set"},
		said{"tank 3000", "done knows:tank_volume=3000"},
	)
	k := newTalk(t)
	k.run(
		said{"use imperial gallons", "done act:units_set"},
		said{"4000 gallon tank, 7000 per acre", "answered area_per_load=0.571429 says:imp_gal"},
		said{"3000 us gallon tank", "knows:tank_volume=3000"},
	)
	newTalk(t).run(
		said{"4000 imperial gallon tank, 7000 imp gal per acre", "answered area_per_load=0.571429 says:imp_gal"},
		said{"4000 gallon tank, 7000 imp gal per acre", "says:4,000_imp_gal"},
	)
}

// The first facts of a chat set its units; a metric chat never meets a gallon.
func TestMetricChat(t *testing.T) {
	k := newTalk(t)
	for _, text := range []string{"cisterna de 14 m3, 35 m3/ha, ballico 12 kg", "y a 40?", "media cisterna", "bomba de 6000 litros por minuto", "6 m de ancho, 5 km/h", "que caudal necesito",
		"nuevo lote norte, 12 ha", "anota carga", "cuanto falta", "cuantas cargas", "mis datos"} {
		r := k.say(text)
		for _, w := range [...]string{"gal", "acre", "lb", "mph", " ft"} {
			if containsWord(r.Text, w) {
				t.Errorf("%q: a metric chat reads %q in %q", text, w, r.Text)
			}
		}
	}
}
