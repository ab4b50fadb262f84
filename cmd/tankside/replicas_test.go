package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"sort"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/store/pgtest"
	"tankside/bot/telegram/apitest"
)

// farm is several replicas of the program on one PostgreSQL, behind something that
// brings each update to any of them.
type farm struct {
	t        *testing.T
	postgres *pgtest.Server
	database string
	api      *apitest.Server
	balancer *httptest.Server
	store    *store.Store
	replicas []*replica
	flags    []string // of serve

	brought, again, refused atomic.Int64
	mu                      sync.Mutex
	took                    []time.Duration
	began                   map[string]time.Time // "chat message" → when it was said
}

// replica is one process, with a network of its own to the database.
type replica struct {
	farm         *farm
	proxy        *pgtest.Proxy
	hook, health string
	polls        bool
	cmd          *exec.Cmd
	log          lockedBuffer
	kills        int
}

func newFarm(t *testing.T, n int, webhook bool, flags ...string) *farm {
	t.Helper()
	f := &farm{t: t, flags: flags, began: map[string]time.Time{}}
	var err error
	if f.postgres, err = pgtest.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.postgres.Close() })
	if f.database, err = f.postgres.Create(t.Context()); err != nil {
		t.Fatal(err)
	}
	if f.api, err = apitest.Start(); err != nil {
		t.Fatal(err)
	}
	f.api.Forget()
	t.Cleanup(f.api.Close)
	f.balancer = httptest.NewServer(http.HandlerFunc(f.balance))
	t.Cleanup(f.balancer.Close)
	f.api.OnSend(func(chat int64, m *apitest.Message) { f.answered(chat, m.ReplyTo) })
	for range n {
		proxy, err := pgtest.NewProxy(f.postgres.Socket())
		if err != nil {
			t.Fatal(err)
		}
		r := &replica{farm: f, proxy: proxy, hook: freeAddress(t), health: freeAddress(t), polls: !webhook}
		t.Cleanup(proxy.Close)
		t.Cleanup(r.kill)
		f.replicas = append(f.replicas, r)
	}
	for _, r := range f.replicas { // all at once: they all find the tables missing
		r.start()
	}
	if f.store, err = store.Open(t.Context(), f.postgres.URL(f.database)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.store.Close() })
	f.await("the replicas", time.Minute, func() bool {
		for _, r := range f.replicas {
			if status, _ := r.ready(); status != http.StatusOK {
				return false
			}
		}
		return true
	})
	return f
}

func (r *replica) start() {
	args := []string{"serve", "--db", r.farm.postgres.URLAt(r.proxy.Address, r.farm.database), "--api-url", r.farm.api.URL,
		"--health", r.health, "--zone", "UTC"}
	args = append(args, r.farm.flags...)
	if !r.polls {
		args = append(args, "--webhook-url", r.farm.balancer.URL+"/hook", "--webhook-listen", r.hook)
	}
	r.cmd = exec.Command("tankside", args...)
	r.cmd.Env = append(os.Environ(), "TANKSIDE_TOKEN="+apitest.Token)
	r.cmd.Stderr, r.cmd.Stdout = &r.log, io.Discard
	if err := r.cmd.Start(); err != nil {
		r.farm.t.Fatal(err)
	}
}

func (r *replica) kill() {
	if r.cmd != nil {
		r.cmd.Process.Kill()
		r.cmd.Wait()
		r.cmd = nil
	}
}

// ready is what the replica says of itself.
func (r *replica) ready() (status int, text string) {
	client := http.Client{Timeout: 5 * time.Second}
	resp, err := client.Get("http://" + r.health + "/readyz")
	if err != nil {
		return 0, err.Error()
	}
	defer resp.Body.Close()
	body, _ := io.ReadAll(resp.Body)
	return resp.StatusCode, string(body)
}

// balance brings an update to any replica, one in ten to two of them at the same time.
// What none has taken is brought again by the server.
func (f *farm) balance(w http.ResponseWriter, r *http.Request) {
	body, err := io.ReadAll(r.Body)
	if err != nil {
		w.WriteHeader(http.StatusBadRequest)
		return
	}
	f.brought.Add(1)
	var twice sync.WaitGroup
	if rand.IntN(10) == 0 {
		f.again.Add(1)
		twice.Go(func() { f.bring(r, body) })
	}
	status := f.bring(r, body)
	twice.Wait()
	if status != http.StatusOK {
		f.refused.Add(1)
	}
	w.WriteHeader(status)
}

func (f *farm) bring(r *http.Request, body []byte) int {
	to := f.replicas[rand.IntN(len(f.replicas))]
	req, err := http.NewRequestWithContext(r.Context(), http.MethodPost, "http://"+to.hook+r.URL.Path, bytes.NewReader(body))
	if err != nil {
		return http.StatusInternalServerError
	}
	req.Header = r.Header.Clone()
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		return http.StatusBadGateway
	}
	resp.Body.Close()
	return resp.StatusCode
}

func (f *farm) await(what string, most time.Duration, ok func() bool) {
	f.t.Helper()
	for deadline := time.Now().Add(most); !ok(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(deadline) {
			for i, r := range f.replicas {
				f.t.Logf("replica %d:\n%s", i+1, lastLines(r.log.String(), 15))
			}
			f.t.Fatalf("waited in vain for %s", what)
		}
	}
}

func lastLines(s string, n int) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}

// letIn makes groups that may use the bot.
func (f *farm) letIn(n int) (chats []int64) {
	f.t.Helper()
	f.do(func(tx bot.Tx) error {
		chats = nil
		for i := range int64(n) {
			chats = append(chats, -5000-i)
			if err := tx.PutGuest(bot.Guest{ID: -5000 - i, Role: bot.Member, Asked: true}); err != nil {
				return err
			}
		}
		return tx.PutGuest(bot.Guest{ID: 7, Role: bot.Owner})
	})
	for _, chat := range chats {
		f.api.Group(chat, "Crew")
	}
	return chats
}

func (f *farm) do(g func(bot.Tx) error) {
	f.t.Helper()
	if err := f.store.Do(f.t.Context(), g); err != nil {
		f.t.Fatal(err)
	}
}

func (f *farm) say(p *apitest.Person, chat int64) int {
	f.mu.Lock()
	defer f.mu.Unlock()
	m := p.Say(chat, "/log")
	id := m["message_id"].(int)
	f.began[fmt.Sprint(chat, id)] = time.Now()
	return id
}

func (f *farm) answered(chat int64, id int) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if began, ok := f.began[fmt.Sprint(chat, id)]; ok {
		delete(f.began, fmt.Sprint(chat, id))
		f.took = append(f.took, time.Since(began))
	}
}

func (f *farm) unanswered() int { f.mu.Lock(); defer f.mu.Unlock(); return len(f.began) }

// settle waits until all is answered and nothing waits.
func (f *farm) settle(most time.Duration) {
	f.t.Helper()
	f.await("silence", most, func() bool {
		in, out := 1, 1
		if err := f.store.Do(f.t.Context(), func(tx bot.Tx) (err error) { in, out, err = tx.Queues(); return err }); err != nil {
			return false
		}
		return f.api.Pending() == 0 && in == 0 && out == 0
	})
}

// trial is what is asked of the farm.
type trial struct {
	updates, chats, reminders int
	killEvery                 time.Duration
}

// replicaTrial is short; TANKSIDE_TEST_REPLICAS=20000 is the long one, with that many
// updates of a tenth as many chats.
func replicaTrial() trial {
	if n, err := strconv.Atoi(os.Getenv("TANKSIDE_TEST_REPLICAS")); err == nil {
		return trial{n, n / 10, 200, 3 * time.Second}
	}
	return trial{1500, 150, 30, 2500 * time.Millisecond}
}

// Three replicas on one PostgreSQL. Updates of many chats come to any of them, one in
// ten twice; a replica is killed every few seconds and PostgreSQL is restarted once.
// Each load is in the log once, each chat in its order, each message is answered, and
// each reminder said.
//
//	go test ./cmd/tankside -run TestReplicas -v
func TestReplicas(t *testing.T) {
	do := replicaTrial()
	f := newFarm(t, 3, true, "--no-limits")
	chats := f.letIn(do.chats)
	f.remindAll(chats[:do.reminders])
	stop, killed := make(chan struct{}), make(chan int)
	go func() { killed <- f.killing(do.killEvery, stop) }()
	began := time.Now()
	said := f.chatter(chats, do.updates)
	f.settle(5 * time.Minute)
	close(stop)
	kills := <-killed
	f.settle(time.Minute)
	took := time.Since(began)
	f.report(do, said, kills, took, chats[:do.reminders])
}

const reminderWords = "wet the seed"

func (f *farm) remindAll(chats []int64) {
	f.do(func(tx bot.Tx) error {
		for i, chat := range chats {
			due := time.Now().Add(time.Second + time.Duration(i*100)*time.Millisecond)
			if _, err := tx.Remind(bot.Reminder{Chat: chat, Person: 8, Kind: bot.RemindSaid, Text: reminderWords, Due: due, Zone: "UTC"}); err != nil {
				return err
			}
		}
		return nil
	})
}

// pace is how fast things are said: slower than three replicas on a small machine can
// take them, so that how long an answer takes tells of the faults and not of the queue.
const pace = 6 * time.Millisecond

// chatter says all messages, not more than some hundred ahead of the replicas. Halfway
// PostgreSQL is restarted.
func (f *farm) chatter(chats []int64, updates int) map[int64][]int {
	said := map[int64][]int{}
	bob := f.api.Person(8, "Bob")
	for n := range updates {
		for deadline := time.Now().Add(2 * time.Minute); f.api.Pending() > 300; time.Sleep(5 * time.Millisecond) {
			if time.Now().After(deadline) {
				f.t.Fatal("nothing is taken any more")
			}
		}
		if n == updates/2 {
			if err := f.postgres.Down(); err != nil {
				f.t.Error(err)
			}
			time.Sleep(300 * time.Millisecond)
			if err := f.postgres.Up(); err != nil {
				f.t.Fatal(err)
			}
		}
		chat := chats[rand.IntN(len(chats))]
		said[chat] = append(said[chat], f.say(bob, chat))
		time.Sleep(pace)
	}
	return said
}

// killing kills a replica every so often and starts it again.
func (f *farm) killing(every time.Duration, stop chan struct{}) (kills int) {
	for {
		select {
		case <-stop:
			return kills
		case <-time.After(every):
		}
		r := f.replicas[rand.IntN(len(f.replicas))]
		r.kill()
		r.kills++
		kills++
		time.Sleep(200 * time.Millisecond)
		r.start()
	}
}

// report prints what became of everything, and fails where it is not as it should be.
func (f *farm) report(do trial, said map[int64][]int, kills int, took time.Duration, reminded []int64) {
	f.t.Helper()
	loads, twice, reminders, remindersTwice := 0, 0, 0, 0
	for chat, ids := range said {
		loads += len(ids)
		twice += f.checkChat(chat, ids)
	}
	for _, chat := range reminded {
		n := 0
		for _, m := range f.api.Messages(chat) {
			n += strings.Count(m.Text, reminderWords)
		}
		if n == 0 {
			f.t.Errorf("chat %d was not reminded", chat)
		}
		reminders += min(n, 1)
		remindersTwice += max(n-1, 0)
	}
	if loads != do.updates {
		f.t.Errorf("%d of %d messages were said", loads, do.updates)
	}
	sort.Slice(f.took, func(i, j int) bool { return f.took[i] < f.took[j] })
	at := func(p float64) time.Duration {
		return f.took[min(int(p*float64(len(f.took))), len(f.took)-1)].Round(time.Millisecond)
	}
	f.t.Logf(`
3 replicas, PostgreSQL restarted once, a replica killed %d times, in %.0f s
messages said              %6d  in %d chats
brought to a replica       %6d  %d of them to two at once, %d refused and brought again
loads in the log           %6d  each once, each chat in order
answered                   %6d  %d of them twice (killed between sending and marking)
reminders said             %6d  %d of them twice
half of the answers within %6v  99 of 100 within %v, all within %v`,
		kills, took.Seconds(), loads, len(said), f.brought.Load(), f.again.Load(), f.refused.Load(), loads,
		len(f.took), twice, reminders, remindersTwice, at(0.5), at(0.99), at(1))
	// As many calls are made and not marked at most when a sender dies.
	if most := 96 * (kills + 1); twice+remindersTwice > most {
		f.t.Errorf("%d answers came twice; %d kills explain %d at most", twice+remindersTwice, kills, most)
	}
}

// checkChat holds a chat's log and answers to what was said in it.
func (f *farm) checkChat(chat int64, ids []int) (twice int) {
	f.t.Helper()
	rows, last := map[int64]int{}, int64(0)
	err := f.store.Loads(f.t.Context(), chat, func(r bot.Row) error {
		rows[r.ID]++
		if r.ID < last {
			f.t.Errorf("chat %d: load %d was logged after load %d", chat, r.ID, last)
		}
		last = r.ID
		return nil
	})
	if err != nil {
		f.t.Fatal(err)
	}
	answers, first := map[int]int{}, 0
	for _, m := range f.api.Messages(chat) {
		if m.ReplyTo == 0 {
			continue
		}
		if answers[m.ReplyTo]++; answers[m.ReplyTo] > 1 {
			continue
		}
		if m.ReplyTo < first {
			f.t.Errorf("chat %d: message %d was answered after message %d", chat, m.ReplyTo, first)
		}
		first = m.ReplyTo
	}
	for _, id := range ids {
		if rows[int64(id)] != 1 || answers[id] == 0 {
			f.t.Errorf("chat %d, message %d: in the log %d times, answered %d times", chat, id, rows[int64(id)], answers[id])
		}
		twice += max(answers[id]-1, 0)
	}
	if len(rows) != len(ids) {
		f.t.Errorf("chat %d: %d loads of %d messages", chat, len(rows), len(ids))
	}
	return twice
}
