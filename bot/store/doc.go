// Package store keeps the memory and the log of every chat in a database: a file
// (SQLite), or PostgreSQL when a farm's bot, or many farms', outgrow one machine.
//
// The log is append-only: a load taken back stays, with a row beside it that says
// so. Sums by field and by day are kept in the same transaction as the rows they
// follow from, so that no total ever scans a chat's history. The SQL is what SQLite
// and PostgreSQL have in common; what differs is in the migrations and dialect.go.
//
// Deliberately not here: what a message means, and any formula of the job.
//
// # Several programs on one database
//
// On PostgreSQL any replica may receive any update and work on any chat.
//
//   - A transaction that reads a chat to write it holds the chat's advisory lock until
//     it ends (lock.go). Workers take only chats that nobody holds, and read what waits
//     of them after they hold them, so a chat is in order whoever works on it.
//   - A message takes effect once: the keys of inbox (update), messages (chat, message)
//     and loads (chat, message, part) are unique.
//   - Reminders that are due are locked with "for update skip locked" and become
//     messages in the transaction that ends them: each is said once.
//   - What only one may do is a role (lead.go): a session-level advisory lock, gone with
//     the program, the session or the server, and taken over in about a second. One role
//     asks for updates, since the Bot API ends all polls but the newest. One role sends:
//     the limits, of the token and of each chat, are then shared exactly, what a 429 says
//     holds for everybody, and one sender is faster than the Bot API lets a token be. It
//     claims what it sends by its term (outbox.taken, skip locked), so a new sender takes
//     everything over at once; NOTIFY wakes it.
//   - A queue library was tried for this (river, on both databases): nothing was doubled,
//     but jobs began up to 1.7 s late, it brings eight migrations of its own, and a chat's
//     order and a token's pace would still have been ours to keep.
//   - An error of a database that is away carries bot.ErrNotNow: it sets nothing aside.
//     What cannot be dealt with or sent is set aside and shown by "tankside doctor".
//
// Roles and locks are of a session: connect to PostgreSQL directly, or through a pooler
// in session mode.
//
// # Moving, back-ups, forgetting
//
// "tankside move-log FROM TO" copies a log either way, goes on where it was broken off,
// and compares counts and checksums of every table; until it is done nobody opens the new
// log. Stop the bot for it. A file is backed up by "tankside backup" while it is in use;
// PostgreSQL by its own means: pg_dump -Fc and pg_restore (tested here), or pg_basebackup
// with WAL archiving, which loses seconds instead of a day. "tankside forget-chat ID
// --yes" deletes all that is kept of a chat, in a file down to the bytes on the disk;
// PostgreSQL reuses the room in time, and back-ups forget when they run out, so keep them
// no longer than is promised to people.
//
// # A plan for a million chats and 100 million loads
//
// Measured by BenchmarkFigures on two cores with a durable commit, PostgreSQL with its
// settings as they come (128 MB of buffers). Milliseconds, the median and 99 of 100:
//
//	                         SQLite      PostgreSQL
//	loads in the log         10 M        1 M        10 M
//	totals and what is left  0.4   1.5   0.8  2.8   0.9  7.3
//	append                   0.6  10.8   1.2  2.5   1.2  2.0
//	times the bare inserts   1.7         1.9        1.96
//
// The column of one million was taken with other work on both cores; with such work the reads
// at ten million took 12.4 and the appends 2.3 times the bare inserts.
//
// Room for each load in PostgreSQL: 1,000 bytes for the message and its reply, 330 for the load with its three
// indexes, 120 for a seed, 60 for sums: about 1.5 kB, 150 GB for 100 million. SQLite takes
// 1.2 kB. Two thirds of it are replies, which only answer a message that comes again; where
// room matters they can be emptied after a month, as inbox and outbox are.
//
// Not partitioned: every statement but housekeeping goes down an index that starts with the
// chat (TestNothingIsScanned…), which is one level deeper at 100 million rows than at one
// million, and what is deleted is deleted by chat and not by date. Partitions by chat would
// give sixteen smaller trees and the same number of pages read.
//
// A season of 60 days of 12 hours makes 100 million loads 39 a second, perhaps 200 at its
// busiest. One connection appends 550 to 1,000 a second, eight together 850 to 1,800. Three replicas
// answered 150 messages a second through kills and a restart on the same two cores that
// PostgreSQL, the messenger's stand-in and the test ran on.
//
// The ceiling is the Bot API: about 30 messages a second for a token (its own guide value;
// we send 25), one answer to each message. 39 a second are two tokens, 200 are eight. A
// token is a bot with chats of its own, so eight tokens are eight databases of 19 GB, on one
// server or on several: that is the partition that is needed, and it needs no code.
package store
