package store

import (
	"slices"
	"strings"
)

// Every statement of the store, in the SQL that SQLite and PostgreSQL share. They
// are prepared once, when the log is opened.
const (
	// getChat is what a chat knows, and the reply that a message got, either of which there
	// may not be.
	getChat = `select (select memory from chats where chat = $1), (select reply from messages where chat = $1 and id = $2)`

	putMemory = `insert into chats (chat, memory) values ($1, $2)
		on conflict (chat) do update set memory = excluded.memory`

	addMessage = `insert into messages (chat, id, stored_at, reply) values ($1, $2, $3, $4)
		on conflict do nothing`

	addLoad = `insert into loads (chat, n, id, part, replaces, field, field_name, seq, fraction,
			volume, area, rate, spread_at, spread_zone, day, said_at, said_zone, who, who_name, note)
		values ($1, (select coalesce(max(n), 0) + 1 from loads where chat = $1), $2, $3, $4, $5, $6, $7, $8,
			$9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19)
		on conflict do nothing returning n`

	addSeed manyRows = `insert into load_seeds (chat, n, pos, crop, rate, weight) values ?`

	findLoad = `select n, field, day, fraction, volume, area, said_zone
		from loads where chat = $1 and id = $2 and part = $3`

	addCancel = `insert into cancels (chat, n, cancelled_at, cancelled_zone, why) values ($1, $2, $3, $4, $5)
		on conflict do nothing`

	seedsOf = `select n, crop, rate, weight from load_seeds
		where chat = $1 and n >= $2 and n <= $3 order by n, pos`

	plusSum manyRows = `insert into sums (chat, scope, key, loads, rows_n, volume, area,
			first_at, first_zone, last_at, last_zone) values ?
		on conflict (chat, scope, key) do update set
			loads = sums.loads + excluded.loads, rows_n = sums.rows_n + 1,
			volume = sums.volume + excluded.volume, area = sums.area + excluded.area,
			first_zone = case when excluded.first_at < sums.first_at then excluded.first_zone else sums.first_zone end,
			first_at = case when excluded.first_at < sums.first_at then excluded.first_at else sums.first_at end,
			last_zone = case when excluded.last_at >= sums.last_at then excluded.last_zone else sums.last_zone end,
			last_at = case when excluded.last_at >= sums.last_at then excluded.last_at else sums.last_at end`

	plusSeed manyRows = `insert into seed_sums (chat, scope, key, crop, rows_n, weight) values ?
		on conflict (chat, scope, key, crop) do update set
			rows_n = seed_sums.rows_n + excluded.rows_n, weight = seed_sums.weight + excluded.weight`

	minusSum = `update sums set loads = loads - $4, rows_n = rows_n - 1, volume = volume - $5, area = area - $6,
			first_at = $7, first_zone = $8, last_at = $9, last_zone = $10
		where chat = $1 and scope = $2 and key = $3`

	minusSeed = `update seed_sums set rows_n = rows_n - 1, weight = weight - $5
		where chat = $1 and scope = $2 and key = $3 and crop = $4`

	dropSum   = `delete from sums where chat = $1 and scope = $2 and key = $3`
	dropSeeds = `delete from seed_sums where chat = $1 and scope = $2 and key = $3 and rows_n = 0`

	// sums lists the sums of the field in hand, of a range of fields, of a day and of a year,
	// and those of their crops, which have no count: in one turn to the server.
	sums = `select scope, key, '' as crop, loads, rows_n, volume, area, first_at, first_zone, last_at, last_zone
		from sums where chat = $1 and scope = 'field' and key = $2
		union all
		select scope, key, '', loads, rows_n, volume, area, first_at, first_zone, last_at, last_zone
		from sums where chat = $1 and scope = 'field' and key >= $3 and key <= $4 and key <> $2
		union all
		select scope, key, '', loads, rows_n, volume, area, first_at, first_zone, last_at, last_zone
		from sums where chat = $1 and scope = 'day' and key = $5
		union all
		select scope, key, '', loads, rows_n, volume, area, first_at, first_zone, last_at, last_zone
		from sums where chat = $1 and scope = 'year' and key = $6
		union all
		select scope, key, crop, weight, 0, 0.0, 0.0, 0, 0, 0, 0
		from seed_sums where chat = $1 and scope = 'field' and key = $2
		union all
		select scope, key, crop, weight, 0, 0.0, 0.0, 0, 0, 0, 0
		from seed_sums where chat = $1 and scope = 'field' and key >= $3 and key <= $4 and key <> $2
		union all
		select scope, key, crop, weight, 0, 0.0, 0.0, 0, 0, 0, 0
		from seed_sums where chat = $1 and scope = 'day' and key = $5
		union all
		select scope, key, crop, weight, 0, 0.0, 0.0, 0, 0, 0, 0
		from seed_sums where chat = $1 and scope = 'year' and key = $6
		order by 1, 2, 3`

	columns = `l.n, l.id, l.part, l.replaces, l.field, l.field_name, l.seq, l.fraction, l.volume, l.area, l.rate,
		l.spread_at, l.spread_zone, l.said_at, l.said_zone, l.who, l.who_name, l.note`

	standing = `not exists (select 1 from cancels c where c.chat = l.chat and c.n = l.n)`

	// recent has a row for each crop of a load, and one for a load without.
	recent = `select ` + columns + `, s.crop, s.rate, s.weight
		from (select * from loads l where l.chat = $1 and ` + standing + ` order by l.n desc limit 12) l
		left join load_seeds s on s.chat = l.chat and s.n = l.n
		order by l.n desc, s.pos`

	page = `select ` + columns + `, coalesce(c.cancelled_at, 0), coalesce(c.cancelled_zone, 0), coalesce(c.why, ''),
			c.n is not null
		from loads l left join cancels c on c.chat = l.chat and c.n = l.n
		where l.chat = $1 and l.n > $2 order by l.n limit 500`
)

// ends find the first and the last load that stands, by scope: of a year among its days,
// given as a range.
var ends = map[scope]struct{ first, last string }{
	byField: {
		first: `select l.spread_at, l.spread_zone from loads l
			where l.chat = $1 and l.field = $2 and ` + standing + ` order by l.spread_at limit 1`,
		last: `select l.spread_at, l.spread_zone from loads l
			where l.chat = $1 and l.field = $2 and ` + standing + ` order by l.spread_at desc limit 1`,
	},
	byDay: {
		first: `select l.spread_at, l.spread_zone from loads l
			where l.chat = $1 and l.day = $2 and ` + standing + ` order by l.spread_at limit 1`,
		last: `select l.spread_at, l.spread_zone from loads l
			where l.chat = $1 and l.day = $2 and ` + standing + ` order by l.spread_at desc limit 1`,
	},
	byYear: {
		first: `select first_at, first_zone from sums
			where chat = $1 and scope = 'day' and key >= $2 and key <= $3 order by first_at limit 1`,
		last: `select last_at, last_zone from sums
			where chat = $1 and scope = 'day' and key >= $2 and key <= $3 order by last_at desc limit 1`,
	},
}

// manyRows is a statement that inserts several rows at a time: a turn to the server and
// back costs more than a row.
type manyRows string

// text is the statement for so many rows of so many columns.
func (r manyRows) text(rows, columns int) string {
	all := make([]string, rows)
	for i := range all {
		all[i] = "(" + places(i*columns, columns) + ")"
	}
	return strings.Replace(string(r), "?", strings.Join(all, ", "), 1)
}

// upTo are the statements for few rows, which are most of them.
func (r manyRows) upTo(rows, columns int) (texts []string) {
	for n := range rows {
		texts = append(texts, r.text(n+1, columns))
	}
	return texts
}

// insertRows inserts rows with one statement.
func (q *query) insertRows(r manyRows, rows [][]any) error {
	if len(rows) == 0 {
		return nil
	}
	_, err := q.exec(r.text(len(rows), len(rows[0])), slices.Concat(rows...)...)
	return err
}

var (
	readSQL  = []string{getChat, sums, recent, seedsOf, page}
	writeSQL = slices.Concat(addSeed.upTo(3, 6), plusSum.upTo(3, 11), plusSeed.upTo(9, 6), []string{
		putMemory, addMessage, addLoad, findLoad, addCancel, seedsOf, minusSum, minusSeed, dropSum, dropSeeds,
		ends[byField].first, ends[byField].last, ends[byDay].first, ends[byDay].last, ends[byYear].first, ends[byYear].last})
)
