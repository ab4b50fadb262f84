package main

import (
	"bytes"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"tankside/bot/telegram/apitest"
)

// lockedBuffer is read while a command writes.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// served is a running "tankside serve".
type served struct {
	t        *testing.T
	server   *apitest.Server
	out, err lockedBuffer
	health   string
	status   chan int
}

func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

func startServe(t *testing.T, db string, more ...string) *served {
	t.Helper()
	server, err := apitest.Start()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(server.Close)
	t.Setenv("TANKSIDE_TOKEN", apitest.Token)
	s := &served{t: t, server: server, health: freeAddress(t), status: make(chan int, 1)}
	args := append([]string{"serve", "--db", db, "--api-url", server.URL, "--health", s.health, "--no-limits"}, more...)
	go func() { s.status <- run(args, &term{In: strings.NewReader(""), Out: &s.out, Err: &s.err}) }()
	return s
}

func (s *served) await(what string, ok func() bool) {
	s.t.Helper()
	for deadline := time.Now().Add(2 * time.Minute); !ok(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(deadline) {
			s.t.Fatalf("waited in vain for %s\n%s\n%s", what, s.out.String(), s.err.String())
		}
	}
}

func (s *served) hear(p *apitest.Person, say, want string) {
	s.t.Helper()
	n := len(s.server.Messages(p.ID))
	p.Say(p.ID, say)
	s.await("an answer to "+say, func() bool { return len(s.server.Messages(p.ID)) > n })
	if got := s.server.Messages(p.ID)[n].Text; !strings.Contains(got, want) {
		s.t.Fatalf("%s: %q", say, got)
	}
}

func (s *served) stop() {
	s.t.Helper()
	began := time.Now()
	if err := syscall.Kill(os.Getpid(), syscall.SIGTERM); err != nil {
		s.t.Fatal(err)
	}
	select {
	case status := <-s.status:
		if status != 0 {
			s.t.Errorf("exit status %d\n%s", status, s.err.String())
		}
	case <-time.After(10 * time.Second):
		s.t.Fatal("not stopped within 10 seconds")
	}
	s.t.Logf("stopped after %v", time.Since(began))
	if all := s.out.String() + s.err.String(); strings.Contains(all, apitest.Token) {
		s.t.Error("the token was printed")
	}
	for _, p := range s.server.Problems() {
		s.t.Errorf("the Bot API would not take: %s", p)
	}
}

func (s *served) owner() *apitest.Person {
	s.t.Helper()
	s.await("the owner's code", func() bool { return strings.Contains(s.out.String(), "/start ") })
	_, code, _ := strings.Cut(s.out.String(), "/start ")
	ann := s.server.Person(7, "Ann")
	s.hear(ann, "/start "+code[:8], "own this bot")
	return ann
}

func get(t *testing.T, url string) (int, string) {
	t.Helper()
	resp, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(body)
}

func tankside(args ...string) (status int, out, err string) {
	var o, e bytes.Buffer
	status = run(args, &term{In: strings.NewReader(""), Out: &o, Err: &e})
	return status, o.String(), e.String()
}

func TestServe(t *testing.T) {
	dir := t.TempDir()
	db, copied := filepath.Join(dir, "log.db"), filepath.Join(dir, "copy.db")
	s := startServe(t, db)
	ann := s.owner()
	s.hear(ann, "my tank is 3000 gallons", "3,000")
	s.hear(ann, "log load", "Load 1")
	s.await("readiness", func() bool { status, _ := get(t, "http://"+s.health+"/readyz"); return status == 200 })
	if status, body := get(t, "http://"+s.health+"/healthz"); status != 200 || body != "ok\n" {
		t.Errorf("/healthz: %d %q", status, body)
	}
	_, metrics := get(t, "http://"+s.health+"/metrics")
	for _, want := range []string{`tankside_messages_total{kind="message",status="done"} 2`, `tankside_updates_total{kind="new"} 3`, `tankside_sent_total{rank="answer"} 3`} {
		if !strings.Contains(metrics, want) {
			t.Errorf("/metrics lacks %s", want)
		}
	}
	if status, out, errs := tankside("doctor", "--db", db, "--api-url", s.server.URL); status != 0 || !strings.Contains(out, "@"+apitest.BotName) {
		t.Errorf("doctor: %d\n%s%s", status, out, errs)
	}
	if status, _, errs := tankside("serve", "--db", db, "--api-url", s.server.URL); status != 1 || !strings.Contains(errs, "in use") {
		t.Errorf("a second bot on the same log: %d %s", status, errs)
	}
	if status, _, errs := tankside("backup", "--db", db, copied); status != 0 {
		t.Errorf("backup: %s", errs)
	}
	s.hear(ann, "log load", "Load 2")
	if status, _, errs := tankside("restore", "--db", db, copied); status != 1 || !strings.Contains(errs, "stop the bot") {
		t.Errorf("restore under a running bot: %d %s", status, errs)
	}
	if strings.Contains(s.err.String(), "3000") || strings.Contains(s.err.String(), "log load") {
		t.Errorf("what people wrote is in the log:\n%s", s.err.String())
	}
	s.stop()
	if status, out, errs := tankside("restore", "--db", db, copied); status != 0 {
		t.Errorf("restore: %s%s", out, errs)
	}
	if _, out, _ := tankside("export", "--db", db, "--chat", "7"); strings.Count(out, "\n") != 2 {
		t.Errorf("after restoring:\n%s", out)
	}
}

func TestServeByWebhook(t *testing.T) {
	at := freeAddress(t)
	s := startServe(t, filepath.Join(t.TempDir(), "log.db"), "--webhook-url", "http://"+at+"/bring/it", "--webhook-listen", at)
	s.hear(s.owner(), "log load", "Load 1")
	if n := s.server.Counts["getUpdates"]; n != 0 {
		t.Errorf("%d polls", n)
	}
	s.stop()
}

func TestTokenComesFromThreePlaces(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	file := write("token", " 1:from_file\n")
	write("telegram-token", "1:from_systemd\n")
	for _, c := range []struct{ env, file, folder, want string }{
		{"1:from_env ", file, dir, "1:from_env"},
		{"", file, dir, "1:from_file"},
		{"", "", dir, "1:from_systemd"},
		{"", "", "", ""},
		{"", filepath.Join(dir, "missing"), dir, ""},
	} {
		t.Setenv("TANKSIDE_TOKEN", c.env)
		t.Setenv("CREDENTIALS_DIRECTORY", c.folder)
		got, err := (&telegramFlags{TokenFile: c.file}).token()
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%+v: %q, %v", c, got, err)
		}
	}
}

func TestDoctorSaysWhatToDo(t *testing.T) {
	t.Setenv("TANKSIDE_TOKEN", "")
	t.Setenv("CREDENTIALS_DIRECTORY", "")
	dir := t.TempDir()
	status, out, _ := tankside("doctor", "--db", filepath.Join(dir, "log.db"))
	if status != 1 || !strings.Contains(out, "BotFather") {
		t.Errorf("without a token: %d\n%s", status, out)
	}
	server, err := apitest.Start()
	if err != nil {
		t.Fatal(err)
	}
	defer server.Close()
	t.Setenv("TANKSIDE_TOKEN", "987654321:wrongwrongwrongwrongwrongwrongwrong")
	blocked := filepath.Join(dir, "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, errs := tankside("doctor", "--db", filepath.Join(blocked, "log.db"), "--api-url", server.URL)
	if status != 1 || strings.Count(out, "to do:") != 2 || strings.Contains(out+errs, "wrongwrong") {
		t.Errorf("a wrong token and no folder: %d\n%s%s", status, out, errs)
	}
	t.Setenv("TANKSIDE_TOKEN", apitest.Token)
	status, out, _ = tankside("doctor", "--db", filepath.Join(dir, "log.db"), "--api-url", "http://"+freeAddress(t))
	if status != 1 || !strings.Contains(out, "check the network") || strings.Contains(out, apitest.Token) {
		t.Errorf("no network: %d\n%s", status, out)
	}
	status, out, _ = tankside("doctor", "--db", filepath.Join(dir, "log.db"), "--api-url", server.URL, "--webhook-url", "https://example.org/x")
	if status != 1 || !strings.Contains(out, "start serve with --webhook-url") {
		t.Errorf("no webhook: %d\n%s", status, out)
	}
}
