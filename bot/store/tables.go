package store

// table is one of the log's tables, for what is done with all of them.
type table struct {
	name string
	key  []string // in which it is read, page by page
	of   string   // which rows are a chat's own; empty: none
	adds bool     // rows are only added, so what has been copied needs no second look
}

// tables are all of them, but for the migrations' own and moving.
var tables = []table{
	{"chats", []string{"chat"}, "chat = $1", false},
	{"messages", []string{"chat", "id"}, "chat = $1", true},
	{"loads", []string{"chat", "n"}, "chat = $1", true},
	{"load_seeds", []string{"chat", "n", "pos"}, "chat = $1", true},
	{"cancels", []string{"chat", "n"}, "chat = $1", true},
	{"sums", []string{"chat", "scope", "key"}, "chat = $1", false},
	{"seed_sums", []string{"chat", "scope", "key", "crop"}, "chat = $1", false},
	{"inbox", []string{"number"}, "chat = $1", false},
	{"offsets", []string{"name"}, "", false},
	{"outbox", []string{"id"}, "chat = $1", false},
	{"turns", []string{"chat", "message"}, "chat = $1", false},
	{"buttons", []string{"id"}, "chat = $1", false},
	{"guests", []string{"id"}, "id = $1", false},
	{"codes", []string{"code"}, "made_by = $1 or used_by = $1", false},
	{"reminders", []string{"id"}, "chat = $1", false},
	{"moved", []string{"chat"}, "chat = $1 or goes_on = $1", false},
}

// numberedTables are the tables whose numbers the database gives.
var numberedTables = []string{"outbox", "buttons", "reminders"}
