package store

import (
	"errors"
	"testing"
	"time"

	"tankside/bot"
)

func do(t *testing.T, s *Store, f func(bot.Tx) error) {
	t.Helper()
	if err := s.Do(ctx, f); err != nil {
		t.Fatal(err)
	}
}

// A transaction that fails leaves nothing of any of its parts.
func TestDeskIsOneTransaction(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		trouble := errors.New("trouble")
		everything := func(tx bot.Tx) error {
			_, err1 := tx.Receive(bot.Incoming{Number: 10, Chat: chatA, Raw: []byte("{}")})
			err2 := tx.Apply(chatA, 1, bot.Memory{Field: 1}, []bot.Effect{{Add: load(1, 0, 1, noon)}}, &bot.Reply{Text: "logged"})
			_, err3 := tx.Send(bot.Outgoing{Chat: chatA, Body: []byte("x")})
			_, err4 := tx.Offer(chatA, []bot.Button{{Say: "undo"}})
			_, err5 := tx.Remind(bot.Reminder{Chat: chatA, Kind: bot.RemindSaid, Due: noon})
			err6 := tx.PutGuest(bot.Guest{ID: chatA, Role: bot.Member})
			return errors.Join(err1, err2, err3, err4, err5, err6, tx.SetOffset(11))
		}
		err := s.Do(ctx, func(tx bot.Tx) error { return errors.Join(everything(tx), trouble) })
		if !errors.Is(err, trouble) {
			t.Fatal(err)
		}
		check := func(want int) {
			t.Helper()
			_, b, _ := get(t, s, chatA, 1, noon)
			do(t, s, func(tx bot.Tx) error {
				in, out, err1 := tx.Queues()
				due, err2 := tx.Due(noon, 10)
				next, err3 := tx.Offset()
				guests, err4 := tx.Guests()
				if b.Field.Count != want || in != want || out != want || len(due) != want || next != int64(11*want) || len(guests) != want {
					t.Errorf("want %d of each: %d loads, %d in, %d out, %d due, next %d, %d guests", want, b.Field.Count, in, out, len(due), next, len(guests))
				}
				return errors.Join(err1, err2, err3, err4)
			})
		}
		check(0)
		do(t, s, everything)
		check(1)
	})
}

func TestInboxAndOutbox(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		do(t, s, func(tx bot.Tx) error {
			for i, n := range []int64{12, 10, 11, 10} {
				fresh, err := tx.Receive(bot.Incoming{Number: n, Chat: chatA, Raw: []byte(`{"n":1}`)})
				if err != nil || fresh != (i < 3) {
					t.Errorf("%d: fresh %v, %v", n, fresh, err)
				}
			}
			list, err := tx.Waiting(0, 10)
			if len(list) != 3 || list[0].Number != 10 || list[2].Number != 12 {
				t.Errorf("waiting: %+v", list)
			}
			return err
		})
		do(t, s, func(tx bot.Tx) error { return errors.Join(tx.Finish(10, ""), tx.Finish(12, "bad")) })
		do(t, s, func(tx bot.Tx) error {
			list, err := tx.Waiting(0, 10)
			again, err2 := tx.Receive(bot.Incoming{Number: 10, Chat: chatA, Raw: []byte("{}")})
			if len(list) != 1 || list[0].Number != 11 || again {
				t.Errorf("waiting: %+v, 10 again: %v", list, again)
			}
			return errors.Join(err, err2)
		})
		var ids []int64
		do(t, s, func(tx bot.Tx) error {
			for _, chat := range []int64{chatA, chatB, chatA} {
				id, err := tx.Send(bot.Outgoing{Chat: chat, Rank: 2, Body: []byte("hi"), Until: noon})
				if err != nil {
					return err
				}
				ids = append(ids, id)
			}
			return errors.Join(tx.Sent(ids[0], 77), tx.GiveUp(ids[1], "blocked"), tx.Retry(ids[2], 3, noon))
		})
		do(t, s, func(tx bot.Tx) error {
			list, err := tx.Unsent(1, 10)
			if len(list) != 1 || list[0].ID != ids[2] || list[0].Tries != 3 || !list[0].Due.Equal(noon) || !list[0].Until.Equal(noon) || list[0].Rank != 2 {
				t.Errorf("unsent: %+v", list)
			}
			m, found, err2 := tx.SentAs(ids[0])
			_, other, err3 := tx.SentAs(ids[1])
			if m != 77 || !found || other {
				t.Errorf("sent as %d, %v, %v", m, found, other)
			}
			return errors.Join(err, err2, err3)
		})
	})
}

func TestButtonsWorkOnceAndGrowOld(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		do(t, s, func(tx bot.Tx) error {
			a, err := tx.Offer(chatA, []bot.Button{{Say: "log"}, {Say: "half"}})
			b, err2 := tx.Offer(chatB, []bot.Button{{Say: "undo"}})
			press := func(chat, id int64, which int, say string, want bot.ButtonState) {
				t.Helper()
				got, state, err := tx.Press(chat, id, which)
				if err != nil || state != want || got != say {
					t.Errorf("button %d.%d in %d: %q, %v, %v", id, which, chat, got, state, err)
				}
			}
			press(chatB, a, 0, "", bot.ButtonUnknown) // another chat's
			press(chatA, a, 2, "", bot.ButtonUnknown)
			press(chatA, a, 1, "half", bot.ButtonLive)
			press(chatA, a, 0, "log", bot.ButtonUsed)
			err3 := tx.Retire(chatA)
			press(chatB, b, 0, "undo", bot.ButtonLive)
			c, err4 := tx.Offer(chatA, []bot.Button{{Say: "log"}})
			err5 := tx.Retire(chatA)
			press(chatA, c, 0, "log", bot.ButtonOld)
			return errors.Join(err, err2, err3, err4, err5)
		})
	})
}

func TestTurnsRememberTheMemoryOfTheNewest(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		do(t, s, func(tx bot.Tx) error {
			var all []error
			for id := int64(1); id <= 2; id++ {
				for _, chat := range []int64{chatA, chatB} {
					all = append(all, tx.PutTurn(chat, bot.Turn{Message: id, Key: id, Out: id, Before: &bot.Memory{Field: id}}))
				}
			}
			all = append(all, tx.PutTurn(chatA, bot.Turn{Message: 2, Key: 9, Edits: 1, Edited: noon, Out: 2, Before: &bot.Memory{Field: 7}}))
			first, err1 := tx.Turn(chatA, 1)
			second, err2 := tx.Turn(chatA, 2)
			other, err3 := tx.Turn(chatB, 2)
			none, err4 := tx.Turn(chatB, 3)
			if first == nil || first.Before != nil || second.Key != 9 || second.Before.Field != 7 || !second.Edited.Equal(noon) || other.Before.Field != 2 || none != nil {
				t.Errorf("%+v %+v %+v %+v", first, second, other, none)
			}
			return errors.Join(append(all, err1, err2, err3, err4)...)
		})
	})
}

func TestCodesWorkOnce(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		do(t, s, func(tx bot.Tx) error {
			err := errors.Join(tx.PutCode("AAAA", bot.Member, 1, noon), tx.PutCode("BBBB", bot.Owner, 0, noon), tx.PutCode("CCCC", bot.Member, 1, noon))
			use := func(code string, at time.Time, want bot.Role) {
				t.Helper()
				gives, ok, err := tx.UseCode(code, 5, at)
				if err != nil || ok != (want != "") || gives != want {
					t.Errorf("%s: %q, %v, %v", code, gives, ok, err)
				}
			}
			use("AAAA", noon.Add(-time.Hour), bot.Member)
			use("AAAA", noon.Add(-time.Hour), "")
			use("CCCC", noon.Add(time.Hour), "") // too late
			use("aaaa", noon.Add(-time.Hour), "")
			err2 := tx.DropCodes(bot.Owner)
			use("BBBB", noon.Add(-time.Hour), "")
			return errors.Join(err, err2)
		})
	})
}

func TestMoveTakesEverythingAlong(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		const old, fresh = chatB, int64(-1001)
		apply(t, s, old, 5, bot.Memory{Field: 1}, bot.Effect{Add: load(5, 0, 1, noon)})
		apply(t, s, chatA, 5, bot.Memory{Field: 1}, bot.Effect{Add: load(5, 0, 1, noon)})
		move := func(tx bot.Tx) error { return tx.Move(old, fresh) }
		do(t, s, func(tx bot.Tx) error {
			_, err := tx.Remind(bot.Reminder{Chat: old, Kind: bot.RemindSaid, Due: noon})
			_, err2 := tx.Send(bot.Outgoing{Chat: old, Body: []byte("x")})
			_, err3 := tx.Receive(bot.Incoming{Number: 1, Chat: old, Raw: []byte("{}")})
			return errors.Join(err, err2, err3, tx.PutGuest(bot.Guest{ID: old, Role: bot.Member, Name: "Crew"}))
		})
		do(t, s, move)
		do(t, s, move) // told twice
		m, b, seen := get(t, s, fresh, 5, noon)
		if m.Field != 1 || b.Field.Count != 1 || b.Today.Count != 1 || len(b.Recent) != 1 || len(b.Recent[0].Seeds) != 2 {
			t.Errorf("moved: %+v %+v", m, b)
		}
		if seen != nil {
			t.Error("the new chat's message 5 passes for the old chat's")
		}
		apply(t, s, fresh, 5, bot.Memory{Field: 1}, bot.Effect{Add: load(5, 0, 1, noon)})
		apply(t, s, fresh, 6, bot.Memory{Field: 1}, bot.Effect{Cancel: &b.Recent[0], Why: "undo"})
		if _, b, _ = get(t, s, fresh, 0, noon); b.Field.Count != 1 || b.Recent[0].ID != 5 {
			t.Errorf("after a new load and taking the moved one back: %+v", b)
		}
		if _, b, _ = get(t, s, chatA, 0, noon); b.Field.Count != 1 {
			t.Errorf("the other chat: %+v", b)
		}
		do(t, s, func(tx bot.Tx) error {
			g, err := tx.Guest(fresh)
			to, err2 := tx.Moved(old)
			in, err3 := tx.Waiting(0, 9)
			out, err4 := tx.Unsent(1, 9)
			due, err5 := tx.Reminders(fresh)
			if g.Name != "Crew" || to != fresh || in[0].Chat != fresh || out[0].Chat != fresh || len(due) != 1 {
				t.Errorf("moved: %+v %d %+v %+v %+v", g, to, in, out, due)
			}
			return errors.Join(err, err2, err3, err4, err5)
		})
	})
}

func TestPruneDropsOnlyWhatIsFinished(t *testing.T) {
	onEach(t, func(t *testing.T, s *Store) {
		do(t, s, func(tx bot.Tx) error {
			var all []error
			for n := int64(1); n <= 2; n++ {
				_, err := tx.Receive(bot.Incoming{Number: n, Chat: chatA, Raw: []byte("{}")})
				id, err2 := tx.Send(bot.Outgoing{Chat: chatA, Body: []byte("x")})
				r, err3 := tx.Remind(bot.Reminder{Chat: chatA, Kind: bot.RemindSaid, Due: noon})
				all = append(all, err, err2, err3)
				all = append(all, tx.PutTurn(chatA, bot.Turn{Message: n, Out: id}))
				if n == 1 {
					all = append(all, tx.Finish(n, ""), tx.Sent(id, 1), tx.EndReminder(r))
				}
			}
			return errors.Join(all...)
		})
		do(t, s, func(tx bot.Tx) error { return tx.Prune(time.Now().Add(time.Hour)) })
		do(t, s, func(tx bot.Tx) error {
			in, out, err := tx.Queues()
			due, err2 := tx.Due(noon, 9)
			again, err3 := tx.Receive(bot.Incoming{Number: 1, Chat: chatA, Raw: []byte("{}")})
			gone, err4 := tx.Turn(chatA, 1)
			kept, err5 := tx.Turn(chatA, 2)
			if gone != nil || kept == nil {
				t.Errorf("turns: %v, %v", gone, kept)
			}
			if in != 1 || out != 1 || len(due) != 1 || !again {
				t.Errorf("%d in, %d out, %d due, number 1 known: %v", in, out, len(due), !again)
			}
			return errors.Join(err, err2, err3, err4, err5)
		})
	})
}
