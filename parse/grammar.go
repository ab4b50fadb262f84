package parse

import (
	"io"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// message is the grammar of a whole message: amounts, and between them the cues
// that the binding rules read (roles, crops, questions, acts …). It takes facts in
// any order and never fails: what no amount takes is a cue.
type message struct {
	Amounts []*amount `parser:"( @@ | Cue | Unit | And | Slash | Range | Per | PerLoad | PerThou | Money | Point | Oh )*"`
}

// amount is a number with its unit, as one production for every quantity, so that
// nothing is parsed twice.
//
//	12 lb/ac · 6 to 8 thousand gallons an acre · 40/20 lb · $0.90 a pound
//	doce libras y media · 31-15-19 lb per 1000 gal · 0.43 acres per load
type amount struct {
	Pos, EndPos lexer.Position
	Money       string    `parser:"@Money?"`
	Lo          number    `parser:"@@"`
	Hi          *number   `parser:"( Range @@ )?"`
	List        []*number `parser:"( Slash @@ )*"`
	Unit        string    `parser:"@Unit?"`
	Part        *number   `parser:"( And @@ )?"`
	PerThou     string    `parser:"( @PerThou"`
	Per         string    `parser:"| Per @Unit"`
	PerLoad     string    `parser:"| @PerLoad )?"`
}

var grammar = participle.MustBuild[message](participle.Lexer(definition{}), participle.UseLookahead(1))

// Grammar is the grammar as EBNF, for the documentation and its golden test.
func Grammar() string { return grammar.String() }

// definition tells participle the token classes. The tokens themselves come from
// reader, which has already classified the words.
type definition struct{}

func (definition) Symbols() map[string]lexer.TokenType        { return symbols }
func (definition) Lex(string, io.Reader) (lexer.Lexer, error) { return nil, io.ErrUnexpectedEOF }
func (definition) LexString(_, _ string) (lexer.Lexer, error) { return nil, io.ErrUnexpectedEOF }

// stream hands the reader's tokens to the grammar. Position.Offset is the index
// of the token, Column 1 for a word and 0 for digits and signs.
type stream struct {
	tokens []token
	next   int
}

func (s *stream) Next() (lexer.Token, error) {
	for s.next < len(s.tokens) && s.tokens[s.next].class == cSkip {
		s.next++
	}
	i := s.next
	if i >= len(s.tokens) {
		return lexer.Token{Type: lexer.EOF, Pos: lexer.Position{Offset: len(s.tokens)}}, nil
	}
	s.next++
	t := &s.tokens[i]
	word := 0
	if t.word {
		word = 1
	}
	return lexer.Token{Type: grammarType[t.class], Value: t.key, Pos: lexer.Position{Offset: i, Column: word}}, nil
}

// amounts runs the grammar.
func (r *reader) amounts() ([]*amount, error) {
	lx, err := lexer.Upgrade(&stream{tokens: r.tokens})
	if err != nil {
		return nil, err
	}
	m, err := grammar.ParseFromLexer(lx)
	if err != nil {
		return nil, err
	}
	return m.Amounts, nil
}
