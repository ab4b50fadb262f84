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
	Amounts []*amount `parser:"( Cue | @@"`
	Stray   []stray   `parser:"| @@ )*"`
}

// stray is a token that only means something inside an amount and stands outside of
// one: "per acre" with no number.
type stray struct{}

// Parse implements participle.Parseable.
func (*stray) Parse(lx *lexer.PeekingLexer) error {
	if lx.Peek().EOF() {
		return participle.NextMatch
	}
	lx.Next()
	return nil
}

// amount is a number, a range or a list with its unit: one production for every
// quantity, so that nothing is parsed twice.
//
//	amount = Money? number ( Range number | ( Slash number )+ )? measure
//	measure = Unit? ( And number )? ( PerThou | Per Unit | PerLoad )?
//
//	12 lb/ac · 6 to 8 thousand gallons an acre · 40/20 lb · $0.90 a pound
//	doce libras y media · 31-15-19 lb per 1000 gal · 0.43 acres per load
//
// It is a production in Go: as struct tags each optional piece would cost a branch
// of the parser and its allocations, five times the whole.
type amount struct {
	From, To int // its tokens, To exclusive
	Money    bool
	Lo       number
	Hi       number // of a range
	Range    bool
	List     []number // what follows Lo in a list
	Unit     string
	Part     float64 // "doce libras y media"
	Per      string
	PerThou  string // "1000gal"
	PerLoad  bool
}

// Parse implements participle.Parseable.
func (a *amount) Parse(lx *lexer.PeekingLexer) error {
	start := lx.MakeCheckpoint()
	a.From = lx.Peek().Pos.Offset
	if lx.Peek().Type == tMoney {
		lx.Next()
		a.Money = true
	}
	if err := a.Lo.Parse(lx); err != nil {
		lx.LoadCheckpoint(start)
		return err
	}
	switch lx.Peek().Type {
	case tRange:
		a.Range = follow(lx, &a.Hi)
	case tSlash:
		var n number
		for lx.Peek().Type == tSlash && follow(lx, &n) {
			a.List = append(a.List, n)
			n = number{}
		}
	}
	a.measure(lx)
	a.To = lx.Peek().Pos.Offset
	return nil
}

// follow takes a joining token and the number behind it, or neither.
func follow(lx *lexer.PeekingLexer, n *number) bool {
	mark := lx.MakeCheckpoint()
	lx.Next()
	if n.Parse(lx) != nil {
		lx.LoadCheckpoint(mark)
		return false
	}
	return true
}

// measure takes the unit, all of it optional.
func (a *amount) measure(lx *lexer.PeekingLexer) {
	if lx.Peek().Type == tUnit {
		a.Unit = lx.Next().Value
	}
	if lx.Peek().Type == tAnd {
		var n number
		mark := lx.MakeCheckpoint()
		if follow(lx, &n) && n.Value < 1 {
			a.Part = n.Value
		} else {
			lx.LoadCheckpoint(mark)
		}
	}
	switch lx.Peek().Type {
	case tPerThou:
		a.PerThou = lx.Next().Value
	case tPerLoad:
		lx.Next()
		a.PerLoad = true
	case tPer:
		mark := lx.MakeCheckpoint()
		lx.Next()
		if lx.Peek().Type == tUnit {
			a.Per = lx.Next().Value
		} else {
			lx.LoadCheckpoint(mark)
		}
	}
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

// stream hands the reader's tokens to the grammar, a run of cues as one. The
// token's Position.Offset is its index, Column 1 for a word and 0 for digits and
// signs.
type stream struct {
	tokens []token
	next   int
}

func (s *stream) Next() (lexer.Token, error) {
	s.skip(cSkip)
	i := s.next
	if i >= len(s.tokens) {
		return lexer.Token{Type: lexer.EOF, Pos: lexer.Position{Offset: len(s.tokens)}}, nil
	}
	s.next++
	t := &s.tokens[i]
	kind := grammarType[t.class]
	if kind == tCue {
		for s.next < len(s.tokens) && (s.tokens[s.next].class == cSkip || grammarType[s.tokens[s.next].class] == tCue) {
			s.next++
		}
	}
	word := 0
	if t.word {
		word = 1
	}
	return lexer.Token{Type: kind, Value: t.key, Pos: lexer.Position{Offset: i, Column: word}}, nil
}

func (s *stream) skip(c class) {
	for s.next < len(s.tokens) && s.tokens[s.next].class == c {
		s.next++
	}
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
