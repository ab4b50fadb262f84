package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"strings"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"tankside/bot/store"
)

type doctor struct {
	dbFlag
	telegramFlags
	voiceFlags
	WebhookURL string `name:"webhook-url" env:"TANKSIDE_WEBHOOK_URL" placeholder:"URL" help:"The webhook that serve is run with, if any."`
}

// finding is what a check comes to. A finding with something to do is a fault.
type finding struct{ what, found, todo string }

// Run makes all checks, prints what each found, and fails when one did.
func (d *doctor) Run(t *term) error {
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	faults := 0
	for _, f := range d.findings(ctx) {
		mark := "ok  "
		if f.todo != "" {
			mark = "BAD "
			faults++
		}
		fmt.Fprintf(t.Out, "%s %-8s %s\n", mark, f.what, f.found)
		if f.todo != "" {
			fmt.Fprintf(t.Out, "     to do:   %s\n", f.todo)
		}
	}
	if faults > 0 {
		return fmt.Errorf("%d things to put right", faults)
	}
	return nil
}

func (d *doctor) findings(ctx context.Context) []finding {
	token, err := d.token()
	out := []finding{{"token", "found", ""}}
	if err != nil {
		todo := "put the token from BotFather into a file and name it with --token-file PATH, or into TANKSIDE_TOKEN"
		out[0] = finding{"token", err.Error(), todo}
	} else {
		out[0] = tokenFile(d.TokenFile)
		out = append(out, d.server(ctx, token)...)
	}
	return append(out, d.log(ctx), d.ear(), mouth())
}

// tokenFile warns of a file that other users of the machine can read.
func tokenFile(path string) finding {
	if path == "" {
		return finding{"token", "found", ""}
	}
	info, err := os.Stat(path)
	if err == nil && info.Mode().Perm()&0o077 != 0 {
		return finding{"token", "others on this machine can read " + path, "chmod 600 " + path}
	}
	return finding{"token", "found in " + path, ""}
}

// server asks the Bot API who we are, how its clock stands, and where updates go.
func (d *doctor) server(ctx context.Context, token string) []finding {
	clock := &clockReader{}
	b, err := tg.New(token, tg.WithSkipGetMe(), tg.WithServerURL(strings.TrimRight(d.API, "/")), tg.WithHTTPClient(20*time.Second, clock))
	if err != nil {
		return []finding{{"telegram", noToken(err, token), "check the token"}}
	}
	me, err := b.GetMe(ctx)
	switch {
	case errors.Is(err, tg.ErrorUnauthorized), errors.Is(err, tg.ErrorNotFound):
		return []finding{{"telegram", "the server does not know this token", "ask BotFather for the token again; /revoke makes a new one"}}
	case err != nil:
		return []finding{{"telegram", noToken(err, token), "check the network and --api-url"}}
	}
	out := []finding{{"telegram", "reached, as @" + me.Username, ""}, clock.finding()}
	if !me.CanJoinGroups {
		out = append(out, finding{"groups", "not allowed; where the crew has a group, tell BotFather /setjoingroups, Enable", ""})
	}
	info, err := b.GetWebhookInfo(ctx)
	if err != nil {
		return append(out, finding{"webhook", noToken(err, token), "try again"})
	}
	return append(out, d.webhook(info))
}

func (d *doctor) webhook(info *models.WebhookInfo) finding {
	switch {
	case info.LastErrorMessage != "" && time.Since(time.Unix(int64(info.LastErrorDate), 0)) < time.Hour:
		return finding{"webhook", "the server could not bring updates: " + info.LastErrorMessage, "check the proxy, its certificate, and that serve runs"}
	case info.URL != d.WebhookURL && d.WebhookURL != "":
		return finding{"webhook", fmt.Sprintf("the server brings updates to %q", info.URL), "start serve with --webhook-url " + d.WebhookURL + ": it sets this"}
	case info.URL != d.WebhookURL:
		return finding{"webhook", "one is set; serve removes it when it starts", ""}
	}
	return finding{"webhook", fmt.Sprintf("as it should be; %d updates wait", info.PendingUpdateCount), ""}
}

func noToken(err error, token string) string { return strings.ReplaceAll(err.Error(), token, "***") }

// clockReader notes the server's clock as answers come in.
type clockReader struct{ off time.Duration }

func (c *clockReader) Do(r *http.Request) (*http.Response, error) {
	began := time.Now()
	resp, err := http.DefaultClient.Do(r)
	if err == nil {
		if at, err := http.ParseTime(resp.Header.Get("Date")); err == nil {
			c.off = began.Add(time.Since(began) / 2).Sub(at)
		}
	}
	return resp, err
}

func (c *clockReader) finding() finding {
	zone, _ := time.Now().Zone()
	if c.off.Abs() > 30*time.Second {
		return finding{"clock", fmt.Sprintf("%s off the server's", c.off.Round(time.Second)), "set the clock, or turn time synchronisation on (timedatectl set-ntp true)"}
	}
	return finding{"clock", "right; the machine's zone is " + zone, ""}
}

func (d *doctor) log(ctx context.Context) finding {
	path, err := d.path()
	if err != nil {
		return finding{"log", err.Error(), "say where with --db PATH"}
	}
	s, err := store.Open(ctx, path)
	if err != nil {
		return finding{"log", err.Error(), "check that the folder is there and yours, or choose another with --db PATH"}
	}
	defer s.Close()
	if err := s.Sound(ctx); err != nil {
		return finding{"log", err.Error(), "stop the bot, keep a copy of the file, and put the last back-up in its place: tankside restore FILE"}
	}
	aside, err := s.SetAside(ctx)
	if err != nil {
		return finding{"log", err.Error(), "try again"}
	}
	found := fmt.Sprintf("sound: %s; %d updates and %d messages set aside in the last month", store.Printable(path), aside.Updates, aside.Messages)
	return finding{"log", strings.Join(append([]string{found}, aside.Latest...), "\n              "), ""}
}

// ear: voice notes need nothing unless somebody is to hear them.
func (d *doctor) ear() finding {
	hear, done, err := d.hearing(nil)
	done()
	var h hinted
	switch {
	case errors.As(err, &h):
		return finding{"ear", err.Error(), h.hint}
	case err != nil:
		return finding{"ear", err.Error(), "choose another with --hear"}
	case hear == nil:
		return finding{"ear", "voice notes are off; the microphone key of the keyboard works. To hear them: " + howToHear, ""}
	case d.Ear == "" || d.Ear == "sphinx":
		return finding{"ear", "voice notes are heard by sphinx: basic, English only", ""}
	}
	return finding{"ear", "voice notes are heard by " + d.Ear, ""}
}

// mouth: spoken answers need a program, and are off in every chat until it turns them
// on.
func mouth() finding {
	if speaking() == nil {
		return finding{"voice", "answers cannot be spoken; to have them spoken: apt-get install espeak-ng", ""}
	}
	return finding{"voice", "answers can be spoken: say “speak on” in a chat", ""}
}
