// Package parse turns what a person typed or dictated into a Request: the facts
// that were said, what was asked, what is to be done, and every word with a
// number, a unit or an unknown term that could not be used.
//
// The steps, each in its own file:
//
//	tidy.go     fold case and accents, keep the byte positions
//	lexicon.go  the words of each language, longest match first
//	lexer.go    words to classes; digits to numbers
//	resolve.go  words that mean several things, settled by their neighbours
//	numbered.go loads named by their number: taken back, put right, asked about
//	loadwords.go verbs that log loads or ask about one
//	number.go   number phrases, digits or words, as a grammar production
//	grammar.go  the message grammar over word classes (participle)
//	bind.go     which quantity each amount is, by the written table of rules
//	ask.go      what was asked and what is to be done
//
// There is one reading or a question: what could be two things is returned as a
// problem that names both. Nothing here remembers, calculates or assumes.
package parse
