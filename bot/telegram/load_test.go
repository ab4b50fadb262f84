package telegram_test

import (
	"context"
	"os"
	"os/exec"
	"sort"
	"strconv"
	"sync"
	"syscall"
	"testing"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"tankside/bot"
	"tankside/bot/store"
	"tankside/bot/telegram/apitest"
)

const echoOf = "TANKSIDE_TEST_ECHO_CHILD"

// runEcho is the least that a bot on the same library can do.
func runEcho(api string) error {
	b, err := tg.New(apitest.Token, tg.WithServerURL(api), tg.WithDefaultHandler(func(ctx context.Context, b *tg.Bot, u *models.Update) {
		if u.Message != nil {
			b.SendMessage(ctx, &tg.SendMessageParams{ChatID: u.Message.Chat.ID, Text: u.Message.Text})
		}
	}))
	if err != nil {
		return err
	}
	b.Start(context.Background())
	return nil
}

// What the load is: so many chats, so many messages a second, for so long.
const (
	loadChats  = 2000
	loadRate   = 1000
	loadPeople = int64(10_000)
)

func loadSeconds() int {
	if n, err := strconv.Atoi(os.Getenv("TANKSIDE_TEST_LOAD_SECONDS")); err == nil {
		return n
	}
	return 10
}

// BenchmarkThousandASecond sends 1,000 updates a second of 2,000 chats to the bot in a
// process of its own, with a durable log, and the same to an echo bot. It reports how
// long answers took, memory, CPU for one update, and how many times the echo's CPU
// that is.
//
//	go test ./bot/telegram -run '^$' -bench Thousand -benchtime 1x
func BenchmarkThousandASecond(b *testing.B) {
	for b.Loop() {
		echo := underLoad(b, echoOf, nil)
		ours := underLoad(b, childOf, letPeopleIn)
		b.ReportMetric(ours.percentile(0.5), "p50_ms")
		b.ReportMetric(ours.percentile(0.99), "p99_ms")
		b.ReportMetric(ours.percentile(1), "max_ms")
		b.ReportMetric(ours.rss, "MB")
		b.ReportMetric(ours.cpu, "µs_cpu/update")
		b.ReportMetric(echo.cpu, "µs_cpu/echo")
		b.ReportMetric(ours.cpu/echo.cpu, "x_echo")
		b.ReportMetric(echo.percentile(0.99), "echo_p99_ms")
		b.ReportMetric(float64(ours.lost), "lost")
	}
	b.ReportMetric(0, "ns/op")
}

type loadResult struct {
	took     []float64 // ms, sorted
	rss, cpu float64   // MB, µs an update
	lost     int
}

func (r *loadResult) percentile(p float64) float64 {
	if len(r.took) == 0 {
		return -1
	}
	return r.took[min(int(p*float64(len(r.took))), len(r.took)-1)]
}

func letPeopleIn(b *testing.B, path string) {
	s, err := store.Open(b.Context(), path)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	err = s.Do(b.Context(), func(tx bot.Tx) error {
		for i := range int64(loadChats) {
			if err := tx.PutGuest(bot.Guest{ID: loadPeople + i, Role: bot.Member, Asked: true}); err != nil {
				return err
			}
		}
		return tx.PutGuest(bot.Guest{ID: 7, Role: bot.Owner})
	})
	if err != nil {
		b.Fatal(err)
	}
}

// texts are what the load says, in turn in each chat.
var texts = []string{"3000 gallon tank, 7000 per acre, ryegrass 12 lb", "log load", "log load", "and at 8000?", "totals today"}

func underLoad(b *testing.B, mode string, prepare func(*testing.B, string)) *loadResult {
	b.Helper()
	server, err := apitest.Start()
	if err != nil {
		b.Fatal(err)
	}
	defer server.Close()
	server.Forget()
	path := b.TempDir() + "/log.db"
	if prepare != nil {
		prepare(b, path)
	}
	r := &loadResult{}
	var mu sync.Mutex
	waiting := map[int64][]time.Time{}
	server.OnSend(func(chat int64, _ *apitest.Message) {
		mu.Lock()
		defer mu.Unlock()
		if q := waiting[chat]; len(q) > 0 {
			r.took = append(r.took, float64(time.Since(q[0]).Microseconds())/1000)
			waiting[chat] = q[1:]
		}
	})
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), mode+"="+server.URL+","+path)
	child.Stderr = os.Stderr
	if err := child.Start(); err != nil {
		b.Fatal(err)
	}
	time.Sleep(500 * time.Millisecond)
	people := make([]*apitest.Person, loadChats)
	for i := range people {
		people[i] = server.Person(loadPeople+int64(i), "P")
	}
	total := loadRate * loadSeconds()
	tick := time.NewTicker(10 * time.Millisecond)
	defer tick.Stop()
	for n := 0; n < total; {
		<-tick.C
		for range loadRate / 100 {
			p := people[n%loadChats]
			mu.Lock()
			waiting[p.ID] = append(waiting[p.ID], time.Now())
			mu.Unlock()
			p.Say(p.ID, texts[n/loadChats%len(texts)])
			n++
		}
	}
	for deadline := time.Now().Add(2 * time.Minute); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		mu.Lock()
		done := len(r.took) >= total
		mu.Unlock()
		if done {
			break
		}
	}
	child.Process.Kill()
	child.Wait()
	use := child.ProcessState.SysUsage().(*syscall.Rusage)
	r.rss = float64(use.Maxrss) / 1024
	r.cpu = float64((child.ProcessState.UserTime() + child.ProcessState.SystemTime()).Microseconds()) / float64(total)
	mu.Lock()
	defer mu.Unlock()
	r.lost = total - len(r.took)
	sort.Float64s(r.took)
	return r
}
