package telegram

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"fmt"
	"strings"
	"time"

	"tankside/bot"
	"tankside/phrases"
)

const (
	codeLength = 8                  // letters and digits, 40 bits
	codeLasts  = 7 * 24 * time.Hour // an invitation
	ownerLasts = 24 * time.Hour     // the first owner's code; a restart makes a new one
	mostTries  = 5                  // wrong codes of one stranger within triesRest
	triesRest  = 24 * time.Hour
	tellAgain  = 30 * 24 * time.Hour // a stranger is told so often that the bot is private
)

func newCode() string {
	var random [5]byte
	rand.Read(random[:]) // never fails
	return base32.StdEncoding.EncodeToString(random[:])
}

// codeIn finds a code in what somebody wrote.
func codeIn(text string) string {
	text = strings.ToUpper(strings.TrimSpace(text))
	if command, rest, ok := strings.Cut(text, " "); ok && strings.HasPrefix(command, "/START") {
		text = strings.TrimSpace(rest)
	}
	if len(text) != codeLength || strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567") != "" {
		return ""
	}
	return text
}

// firstOwner prints a one-time code while there is no owner.
func (b *Bot) firstOwner(ctx context.Context) error {
	code := newCode()
	err := b.Desk.Do(ctx, func(tx bot.Tx) error {
		guests, err := tx.Guests()
		if err != nil {
			return err
		}
		for _, g := range guests {
			if g.Role == bot.Owner {
				code = ""
				return nil
			}
		}
		if err := tx.DropCodes(bot.Owner); err != nil {
			return err
		}
		return tx.PutCode(code, bot.Owner, 0, b.now().Add(ownerLasts))
	})
	if err == nil && code != "" {
		fmt.Fprintf(b.Notice, "Nobody owns this bot yet. Send it this in a private chat, once, within a day:\n\n    /start %s\n\n", code)
	}
	return err
}

// stranger deals with somebody who may not: a code lets them in, anything else gets
// one polite line and then silence. In a group that may not, only what is addressed
// to us counts.
func (j *job) stranger(p *place, text string, addressed bool) error {
	if !addressed {
		return nil
	}
	g := p.room
	if j.now.Sub(g.Told) > triesRest {
		g.Tries = 0
	}
	if code := codeIn(text); code != "" && g.Tries < mostTries {
		gives, ok, err := j.tx.UseCode(code, p.person.ID, j.now)
		if err != nil {
			return err
		}
		if ok {
			return j.welcome(p, gives)
		}
		g.Tries++
	}
	tell := j.now.Sub(g.Told) > tellAgain
	if tell || g.Tries > 0 {
		g.Name, g.Told = p.person.Name, later(g.Told, j.now, tell)
		if err := j.tx.PutGuest(g); err != nil {
			return err
		}
	}
	j.tally = append(j.tally, tally{kind: "stranger"})
	if !tell {
		return nil
	}
	return j.say(p, line(p.lang, "telegram.stranger", phrases.Fill{}))
}

// later keeps when somebody was told, unless they are told now; the first wrong code
// counts as told too, for the tries.
func later(told, now time.Time, tell bool) time.Time {
	if tell || told.IsZero() || now.Sub(told) > triesRest && now.Sub(told) <= tellAgain {
		return now
	}
	return told
}

// welcome lets a person or a group in. A code for an owner makes a person one, also
// when it is used in a group.
func (j *job) welcome(p *place, gives bot.Role) error {
	who := p.room
	if gives == bot.Owner {
		who = p.who
	}
	who.Role, who.Tries, who.Silent, who.Name = gives, 0, false, p.person.Name
	if err := j.tx.PutGuest(who); err != nil {
		return err
	}
	key := "telegram.welcome"
	if gives == bot.Owner {
		key = "telegram.welcome_owner"
	}
	return j.say(p, line(p.lang, key, phrases.Fill{Who: p.person.Name}))
}

// invite makes a code; in a group that may not yet, an owner's word is enough.
func (j *job) invite(p *place, rest string) error {
	if !p.owner {
		return j.say(p, line(p.lang, "telegram.owners_only", phrases.Fill{}))
	}
	if !p.private && p.room.Role == bot.Stranger {
		return j.welcome(p, bot.Member)
	}
	gives := bot.Member
	if strings.Contains(rest, "owner") || strings.Contains(rest, "due") {
		gives = bot.Owner
	}
	if !p.private {
		return j.say(p, line(p.lang, "telegram.invite_private", phrases.Fill{}))
	}
	code := newCode()
	if err := j.tx.PutCode(code, gives, p.person.ID, j.now.Add(codeLasts)); err != nil {
		return err
	}
	return j.say(p, line(p.lang, "telegram.invite", phrases.Fill{Word: "/start " + code}))
}

// people lists who may use the bot, with the command that ends it.
func (j *job) people(p *place) error {
	if !p.owner || !p.private {
		return j.say(p, line(p.lang, "telegram.owners_only", phrases.Fill{}))
	}
	guests, err := j.tx.Guests()
	if err != nil {
		return err
	}
	lines := []string{line(p.lang, "telegram.people", phrases.Fill{})}
	for _, g := range guests {
		if g.Role != bot.Stranger {
			lines = append(lines, line(p.lang, "telegram.person_"+string(g.Role), phrases.Fill{Who: g.Name, Word: "/remove " + fmt.Sprint(g.ID)}))
		}
	}
	return j.say(p, strings.Join(lines, "\n"))
}

// remove ends somebody's right. The last owner stays.
func (j *job) remove(p *place, rest string) error {
	var id int64
	if _, err := fmt.Sscan(rest, &id); err != nil || !p.owner {
		return j.people(p)
	}
	guests, err := j.tx.Guests()
	if err != nil {
		return err
	}
	owners, found := 0, false
	var gone bot.Guest
	for _, g := range guests {
		if g.Role == bot.Owner {
			owners++
		}
		if g.ID == id && g.Role != bot.Stranger {
			gone, found = g, true
		}
	}
	switch {
	case !found:
		return j.say(p, line(p.lang, "telegram.not_found", phrases.Fill{}))
	case gone.Role == bot.Owner && owners == 1:
		return j.say(p, line(p.lang, "telegram.last_owner", phrases.Fill{}))
	}
	gone.Role, gone.Told = bot.Stranger, j.now
	if err := j.tx.PutGuest(gone); err != nil {
		return err
	}
	return j.say(p, line(p.lang, "telegram.removed", phrases.Fill{Who: gone.Name}))
}
