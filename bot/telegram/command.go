package telegram

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"tankside/bot"
	"tankside/phrases"
)

// shown are the commands in the menu, by language. What they do is in spokenAs and
// in (*job).command; all names work in every language.
var shown = map[string][]string{
	"en": {"log", "half", "undo", "totals", "left", "fields", "setup", "remind", "help", "settings"},
	"es": {"carga", "media", "deshacer", "totales", "queda", "campos", "ajustes", "recordar", "ayuda", "opciones"},
}

// spokenAs are the commands that are words of the conversation, as catalogue keys.
var spokenAs = map[string]string{
	"log": "telegram.say_log", "carga": "telegram.say_log",
	"half": "word.half", "media": "word.half",
	"undo": "word.undo", "deshacer": "word.undo",
	"totals": "telegram.say_totals", "totales": "telegram.say_totals",
	"left": "telegram.say_left", "queda": "telegram.say_left",
	"fields": "telegram.say_fields", "campos": "telegram.say_fields",
	"setup": "telegram.say_setup", "ajustes": "telegram.say_setup",
	"help": "telegram.say_help", "ayuda": "telegram.say_help",
	"clear": "telegram.say_clear", "borrar": "telegram.say_clear",
	"forget": "telegram.say_forget", "olvidar": "telegram.say_forget",
}

// cutCommand takes "/log@some_bot 2 loads" apart.
func cutCommand(text string) (command, rest string, ok bool) {
	text = strings.TrimSpace(text)
	if len(text) < 2 || text[0] != '/' {
		return "", "", false
	}
	end := strings.IndexAny(text, " \n\t")
	if end < 0 {
		end = len(text)
	}
	command = strings.ToLower(text[1:end])
	for _, r := range command {
		if !(r == '_' || r == '@' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9') {
			return "", "", false // "/2 tank" is no command
		}
	}
	return command, strings.TrimSpace(text[end:]), true
}

// spelledOut is what a command that is words of the conversation says.
func spelledOut(lang, command, rest string) (say string, ok bool) {
	key := spokenAs[command]
	if key == "" {
		return "", false
	}
	say = phrases.Word(lang, key)
	if key == "telegram.say_log" && namesIts(say, rest) {
		say, _ = phrases.Line(lang, "telegram.say_log_volume", phrases.Fill{Word: rest}) // "log 2 loads", not "log load 2 loads"
		return say, true
	}
	return strings.TrimSpace(say + " " + rest), true
}

// namesIts says whether what follows a command has the last word of what it says, or
// its plural, in it.
func namesIts(say, rest string) bool {
	last := say[strings.LastIndexByte(say, ' ')+1:]
	return slices.ContainsFunc(strings.Fields(strings.ToLower(rest)), func(word string) bool { return word == last || word == last+"s" })
}

// command does a command, or gives the words that it stands for.
func (j *job) command(p *place, id int, command, rest string, m bot.Memory) (done bool, say string, err error) {
	if say, ok := spelledOut(p.lang, command, rest); ok {
		return false, say, nil
	}
	j.tally = append(j.tally, tally{kind: "command", since: p.at})
	switch command {
	case "start":
		return true, "", j.start(p, rest, m)
	case "invite", "invitar":
		err = j.invite(p, rest)
	case "people", "personas":
		err = j.people(p)
	case "remove", "quitar":
		err = j.remove(p, rest)
	case "export", "exportar":
		err = j.export(p, rest)
	case "cancel", "cancelar":
		err = j.say(p, line(p.lang, "act.dropped", phrases.Fill{}))
	case "zone", "zona":
		err = j.zone(p, id, rest, m)
	case "day", "dia":
		err = j.day(p, rest)
	case "soak", "remojo":
		err = j.toggle(p, rest, &p.room.Soak, "soak")
	case "nudge", "avisos":
		err = j.toggle(p, rest, &p.room.Nudge, "nudge")
	case "remind", "recordar":
		text := "remind me " + rest
		w, _ := bot.ReadWish(text, p.lang, p.at)
		err = j.wish(p, id, text, w, m)
	case "reminders", "recordatorios":
		err = j.listReminders(p, rest)
	case "settings", "opciones":
		err = j.say(p, line(p.lang, "telegram.settings", phrases.Fill{}))
	default:
		return false, strings.TrimSpace(command + " " + rest), nil // perhaps words of the conversation
	}
	return true, "", err
}

// start greets. Somebody who is in already may still become an owner by a code.
func (j *job) start(p *place, rest string, m bot.Memory) error {
	if code := codeIn(rest); code != "" {
		gives, ok, err := j.tx.UseCode(code, p.person.ID, j.now)
		if err != nil {
			return err
		}
		if ok && (gives == bot.Owner || p.room.Role == bot.Stranger) {
			return j.welcome(p, gives)
		}
	}
	ask, err := j.askZone(p, m)
	if err != nil {
		return err
	}
	return j.say(p, line(p.lang, "telegram.hello", phrases.Fill{})+ask)
}

// export sends the log as a file, after a yes.
func (j *job) export(p *place, rest string) error {
	if j.Export == nil {
		return j.say(p, line(p.lang, "telegram.no_export", phrases.Fill{}))
	}
	if rest != "yes" {
		keys, err := j.offer(p.chat, []bot.Button{{Label: phrases.Word(p.lang, "word.yes"), Say: "/export yes"}, {Label: phrases.Word(p.lang, "word.no"), Say: "/cancel"}})
		if err != nil {
			return err
		}
		return j.sayWith(p, line(p.lang, "telegram.confirm_export", phrases.Fill{}), &keyboard{Rows: [][]key{keys}})
	}
	_, err := put(j.tx, bot.Outgoing{Chat: p.chat, Rank: rankReport}, call{Method: sendLog, Text: line(p.lang, "telegram.exported", phrases.Fill{}), Thread: p.thread})
	return err
}

// zone sets the chat's time zone, or asks for it.
func (j *job) zone(p *place, id int, rest string, m bot.Memory) error {
	if rest == "" {
		return j.offerZones(p, line(p.lang, "telegram.zone_is", phrases.Fill{Word: bot.ZoneOf(m, j.Zone).String(), At: clock(p.at)}))
	}
	zone, err := time.LoadLocation(strings.ReplaceAll(rest, " ", "_"))
	if err != nil || rest == "Local" {
		return j.offerZones(p, line(p.lang, "telegram.zone_unknown", phrases.Fill{Word: rest}))
	}
	m.Zone = zone.String()
	// A number of its own: the setting is no message of the conversation.
	if err := j.tx.Apply(p.chat, -int64(id)-zoneNumbers-p.at.Unix()%zoneNumbers, m, nil, nil); err != nil {
		return err
	}
	p.at = p.at.In(zone)
	if err := j.moveDay(p); err != nil {
		return err
	}
	return j.say(p, line(p.lang, "telegram.zone_set", phrases.Fill{Word: m.Zone, At: clock(p.at)}))
}

// zoneNumbers keep settings apart from presses, whose numbers are -1, -2, …
const zoneNumbers = int64(1) << 40

// zones are offered at the press of a button; any other can be typed.
var zones = []struct{ word, name string }{
	{"telegram.zone_eastern", "America/New_York"}, {"telegram.zone_central", "America/Chicago"},
	{"telegram.zone_mountain", "America/Denver"}, {"telegram.zone_pacific", "America/Los_Angeles"},
}

func (j *job) offerZones(p *place, text string) error {
	var buttons []bot.Button
	for _, z := range zones {
		buttons = append(buttons, bot.Button{Label: phrases.Word(p.lang, z.word), Say: "/zone " + z.name})
	}
	row, err := j.offer(p.chat, buttons)
	if err != nil {
		return err
	}
	return j.sayWith(p, text, &keyboard{Rows: [][]key{row}})
}

// askZone asks for the time zone, once, in a line under an answer that a clock is in.
func (j *job) askZone(p *place, m bot.Memory) (string, error) {
	if m.Zone != "" || p.room.Asked {
		return "", nil
	}
	p.room.ID, p.room.Asked = p.chat, true
	if err := j.tx.PutGuest(p.room); err != nil {
		return "", err
	}
	return "\n" + line(p.lang, "telegram.zone_ask", phrases.Fill{Word: j.Zone.String(), At: clock(p.at)}), nil
}

// clock is a time of day, for the catalogue to word.
func clock(t time.Time) string { return t.Format("15:04") }

// toggle switches a setting of the chat.
func (j *job) toggle(p *place, rest string, setting *bool, name string) error {
	switch strings.ToLower(rest) {
	case "on", "si", "sí", "yes":
		*setting = true
	case "off", "no":
		*setting = false
	default:
		*setting = !*setting
	}
	p.room.ID = p.chat
	if err := j.tx.PutGuest(p.room); err != nil {
		return err
	}
	key := "telegram." + name + "_off"
	if *setting {
		key = "telegram." + name + "_on"
	}
	return j.say(p, line(p.lang, key, phrases.Fill{}))
}

// setCommands tells the server the menu of each language; the first language's is
// also for all others.
func (b *Bot) setCommands(ctx context.Context) error {
	for i, lang := range phrases.Languages() {
		var menu []models.BotCommand
		for n, name := range shown[lang] {
			menu = append(menu, models.BotCommand{Command: name, Description: phrases.Word(lang, "command."+shown["en"][n])})
		}
		codes := []string{lang}
		if i == 0 {
			codes = append(codes, "")
		}
		for _, code := range codes {
			if _, err := b.api.SetMyCommands(ctx, &tg.SetMyCommandsParams{Commands: menu, LanguageCode: code}); err != nil {
				return fmt.Errorf("setMyCommands: %w", err)
			}
		}
	}
	return nil
}
