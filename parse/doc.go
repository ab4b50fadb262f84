// Package parse turns what a person typed or dictated into a Request: the facts
// that were said, what was asked, what is to be done, and every word with a
// number, a unit or an unknown term that could not be used.
//
// The steps, each in its own file:
//
//	tidy.go              fold case and accents, keep the byte positions
//	lexicon.go           the words of each language, longest match first
//	lexer.go, digits.go  words to classes, digits to numbers; suggest.go mends misspellings
//	resolve….go          words that mean several things, settled by their neighbours;
//	                     first_year.go nitrogen of the first year
//	clock.go, date.go    times of day and days, one token each
//	numbered.go          loads named by their number; loadwords.go verbs that log loads
//	number.go, qty.go    number phrases and amounts; grammar.go the message (participle)
//	turn.go              corrections, negations, alternatives; mix_edit.go changes to a mix
//	act.go, field.go     what is to be done; field_at.go ground told of by name and size;
//	                     courtesy.go what carries nothing
//	told.go, telling.go  loads that are told of: tell_clause.go the shapes of a clause,
//	                     tell_words.go its words, tell_place.go the ground, tell_around.go
//	                     what may stand beside; moved.go a load put on other ground
//	emergency.go         somebody down or in a tank; standing.go seed that stands in it
//	until.go             the hour when the day ends, when the field is done
//	bind.go, rules.go    which quantity each amount is, by the written table of rules;
//	                     jar.go jars and their counts; rule_….go one file a dimension or
//	                     a part (gate, tubes), nut_form.go P and K
//	                     or their oxides, near.go what stands beside
//	refill.go            what is left in a tank that is filled up again
//	workday.go, rigs.go  a working day's hours, the round as a whole, tankers that haul; start.go
//	                     when work starts; until.go when it ends; stock.go how far seed goes
//	all.go               whether all fields are meant
//	ask….go, bare.go     what was asked; verdict.go, enough.go yes or no, recall.go of days gone by
//	collect.go           facts, and all that was not used; unknown.go unknown words
//	trace.go             how each of it was read, for explain
//
// There is one reading or a question: what could be two things is returned as a
// problem that names both. Nothing here remembers, calculates or assumes.
package parse
