package store

import "strings"

// The statements of the desk, shared by SQLite and PostgreSQL like those of the log.
const (
	byRow    = `select ` + columns + ` from loads l where l.chat = $1 and l.n = $2`
	freePart = `select max(part) + 1 from loads where chat = $1 and id = $2`

	addInbox = `insert into inbox (number, chat, raw, received_at) values ($1, $2, $3, $4) on conflict do nothing`
	waiting  = `select number, chat, raw from inbox where done_at = 0 and number > $1 order by number limit $2`
	finish   = `update inbox set done_at = $2, trouble = $3, raw = '' where number = $1`
	getNext  = `select next from offsets where name = 'updates'`
	putNext  = `insert into offsets (name, next) values ('updates', $1) on conflict (name) do update set next = excluded.next`

	addOut = `insert into outbox (chat, rank, body, edits, due_at, until_at) values ($1, $2, $3, $4, $5, $6) returning id`
	claim  = `update outbox set taken = $1
		where id in (select id from outbox where state = 0 and taken <> $1 order by id limit $2?)
		returning id, chat, rank, body, edits, due_at, until_at, tries`
	markSent  = `update outbox set state = 1, ended_at = $2, message = $3, body = '' where id = $1`
	markRetry = `update outbox set tries = $2, due_at = $3 where id = $1`
	markDead  = `update outbox set state = 2, ended_at = $2, why = $3, body = '' where id = $1`
	sentAs    = `select message from outbox where id = $1 and state = 1`
	inWait    = `select count(*) from inbox where done_at = 0`
	outWait   = `select count(*) from outbox where state = 0`

	getTurn   = `select key, edits, edited_at, out, said, reminder, memory from turns where chat = $1 and message = $2`
	dropTurns = `update turns set memory = '' where chat = $1 and memory <> ''`
	putTurn   = `insert into turns (chat, message, key, edits, edited_at, out, said, reminder, memory) values ($1, $2, $3, $4, $5, $6, $7, $8, $9)
		on conflict (chat, message) do update set key = excluded.key, edits = excluded.edits,
			edited_at = excluded.edited_at, out = excluded.out, said = excluded.said,
			reminder = excluded.reminder, memory = excluded.memory`

	addButtons = `insert into buttons (chat, says, state) values ($1, $2, 1) returning id`
	getButtons = `select says, state from buttons where id = $1 and chat = $2`
	useButtons = `update buttons set state = 2 where id = $1`
	retire     = `update buttons set state = 3 where chat = $1 and state = 1`

	guestColumns = `id, role, name, told_at, tries, silent, asked, soak, nudge, day`
	getGuest     = `select ` + guestColumns + ` from guests where id = $1`
	allGuests    = `select ` + guestColumns + ` from guests order by id`
	putGuest     = `insert into guests (` + guestColumns + `) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
		on conflict (id) do update set role = excluded.role, name = excluded.name, told_at = excluded.told_at,
			tries = excluded.tries, silent = excluded.silent, asked = excluded.asked, soak = excluded.soak,
			nudge = excluded.nudge, day = excluded.day`
	addCode   = `insert into codes (code, gives, made_by, until_at) values ($1, $2, $3, $4)`
	useCode   = `update codes set used_by = $2, used_at = $3 where code = $1 and used_by = 0 and until_at > $3 returning gives`
	dropCodes = `delete from codes where gives = $1 and used_by = 0`

	reminderColumns = `id, chat, thread, person, kind, words, due_at, zone`
	addReminder     = `insert into reminders (chat, thread, person, kind, words, due_at, zone) values ($1, $2, $3, $4, $5, $6, $7) returning id`
	dueReminders    = `select ` + reminderColumns + ` from reminders where ended_at = 0 and due_at <= $1 order by due_at, id limit $2`
	chatReminders   = `select ` + reminderColumns + ` from reminders where ended_at = 0 and chat = $1 order by due_at, id`
	endReminder     = `update reminders set ended_at = $2 where id = $1`
	endKind         = `update reminders set ended_at = $3 where chat = $1 and kind = $2 and ended_at = 0`

	getMoved = `select goes_on from moved where chat = $1`
	addMoved = `insert into moved (chat, goes_on) values ($1, $2) on conflict do nothing`
	hasLoads = `select count(*) from loads where chat = $1`

	pruneInbox     = `delete from inbox where done_at > 0 and done_at < $1`
	pruneOutbox    = `delete from outbox where state > 0 and ended_at < $1`
	pruneReminders = `delete from reminders where ended_at > 0 and ended_at < $1`
	pruneTurns     = `delete from turns where out > 0 and out < (select coalesce(min(id), 0) from outbox)`
	pruneButtons   = `delete from buttons where state <> 1 and id < (select max(id) from buttons) - 100000`
)

// loggedBy follows each load of a message to the row that has taken its place since. In
// the place of what it replaces is the row that the message put right or noted; 0: none.
var loggedBy = `with recursive mine (n, root) as (
		select n, n from loads where chat = $1 and id = $2
		union
		select l.n, m.root from mine m
		join loads o on o.chat = $1 and o.n = m.n
		join cancels c on c.chat = $1 and c.n = m.n and c.why <> 'edited'
		join loads l on l.chat = $1 and l.n > m.n and l.replaces = o.id and l.seq = o.seq
	)
	select ` + strings.Replace(columns, "l.replaces", `coalesce((select c.n from cancels c where c.chat = $1 and c.why <> 'edited'
		and c.n = (select max(p.n) from loads p where p.chat = $1 and p.id = r.replaces and p.seq = r.seq and p.n < r.n)), 0)`, 1) + ` from mine m
	join loads l on l.chat = $1 and l.n = m.n
	join loads r on r.chat = $1 and r.n = m.root
	where ` + standing + ` and m.root = (select max(root) from mine where n = m.n) order by l.n`

// claimBy is claim with the words that lock what it finds.
func claimBy(locking string) string { return strings.Replace(claim, "?", locking, 1) }

// moves rewrite a chat's number ($1 to $2). Message numbers start again in the chat's
// new home, so the old ones are lifted out of the way ($3).
var moves = []string{
	`delete from chats where chat = $2 and $2 <> $1`,
	`update chats set chat = $2 where chat = $1`,
	`update messages set chat = $2, id = case when id > 0 then id + $3 else id end where chat = $1`,
	`update loads set chat = $2, id = case when id > 0 then id + $3 else id end,
		replaces = case when replaces > 0 then replaces + $3 else replaces end where chat = $1`,
	`update load_seeds set chat = $2 where chat = $1`,
	`update cancels set chat = $2 where chat = $1`,
	`update sums set chat = $2 where chat = $1`,
	`update seed_sums set chat = $2 where chat = $1`,
	`update inbox set chat = $2 where chat = $1 and done_at = 0`,
	`update outbox set chat = $2 where chat = $1`,
	`delete from turns where chat = $1`,
	`update buttons set chat = $2 where chat = $1`,
	`update reminders set chat = $2 where chat = $1`,
	`delete from guests where id = $2 and exists (select 1 from guests g where g.id = $1)`,
	`update guests set id = $2 where id = $1`,
	`update moved set goes_on = $2 where goes_on = $1`,
}

var deskSQL = []string{loggedBy, byRow, freePart, addInbox, waiting, finish, getNext, putNext, addOut, claimBy(""), markSent, markRetry, markDead, sentAs, inWait, outWait,
	getTurn, dropTurns, putTurn, addButtons, getButtons, useButtons, retire, getGuest, allGuests, putGuest, addCode, useCode, dropCodes,
	addReminder, dueReminders, chatReminders, endReminder, endKind, getMoved, addMoved, hasLoads, pruneInbox, pruneOutbox, pruneReminders, pruneTurns, pruneButtons}
