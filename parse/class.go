package parse

import "github.com/alecthomas/participle/v2/lexer"

// class is what kind of word a token is. The lexicon files name classes in their
// first column; the grammar names them in its tags.
type class uint8

const (
	cWord    class = iota // unknown word
	cFiller               // known to carry nothing
	cSkip                 // taken out before the grammar: swallowed by a neighbour
	cNum                  // a number: digits or a number word; key is its value
	cNumFrac              // 1/2, ½: a fraction written with signs
	cScale                // hundred, thousand, k
	cFrac                 // half, quarter, third
	cPoint                // point, coma
	cOh                   // oh as a zero place
	cDozen
	cPair
	cVague
	cDouble
	cAbout
	cRange   // between the ends of a range
	cBetween // "between", "entre"
	cAnd
	cUnit
	cUnitIn // "in", inch or not
	cClash  // t, m, g, ton: a unit that means several
	cMoney
	cPer
	cPerLoad // "per load", "a load"
	cPerThou // "per 1000 gal"
	cArt
	cHom
	cSlash
	cDash
	cComma
	cQuestion // "?"
	cRole
	cCrop
	cRyeQ  // "rye": cereal rye or ryegrass
	cCropQ // "clover": which one
	cNut
	cNutQ // P, K: the element or the oxide
	cNutW // a bare n
	cAnalysis
	cManure
	cQ
	cNoun
	cAct
	cFix
	cWhatIf
	cNot
	cTime
	cScope
	cOrd
	cLabel
	cAt
	cOf
	cMy
	cFull
	cConv
	cEach
	cInfo
	cClock // a time of day, minutes past midnight in key
	cName  // one of the chat's own field names
	cUn    // un, una: one or the article
	cARange
	cXPer
	cATime
	cComa
	cCwt
	cMethod // how the slurry goes on or in
	cSoil
	cMoist   // how much water the soil holds
	cOther   // somebody else's numbers: the neighbour's, last year's
	cSpan    // a stretch of the past: last fall
	cKind    // what tells one clover from another, alone: white
	cMonth   // a month's name
	cMid     // "mid" October
	cDate    // a day of the year, MMDD in key
	cScheme  // a published table of nitrogen availability
	cPlace   // a place that windows were published for
	cNutForm // P and K by the element, or as oxides
	cIdle    // a unit that has no part in the job: cows, psi
	numClasses
)

var classNamed = map[string]class{
	"word": cWord, "filler": cFiller, "num": cNum, "numfrac": cNumFrac, "scale": cScale, "k": cScale, "frac": cFrac, "point": cPoint, "oh": cOh, "dozen": cDozen,
	"pair": cPair, "vague": cVague, "double": cDouble, "about": cAbout, "range": cRange, "between": cBetween, "and": cAnd, "unit": cUnit,
	"in": cUnitIn, "clash": cClash, "money": cMoney, "per": cPer, "perload": cPerLoad, "perthou": cPerThou, "art": cArt, "hom": cHom,
	"slash": cSlash, "dash": cDash, "comma": cComma, "ask?": cQuestion, "role": cRole, "crop": cCrop, "ryeq": cRyeQ, "cropq": cCropQ,
	"nut": cNut, "nutq": cNutQ, "nutw": cNutW, "nutform": cNutForm, "analysis": cAnalysis, "manure": cManure, "q": cQ, "noun": cNoun, "act": cAct, "fix": cFix,
	"whatif": cWhatIf, "not": cNot, "time": cTime, "scope": cScope, "ord": cOrd, "label": cLabel, "at": cAt, "of": cOf, "my": cMy,
	"full": cFull, "conv": cConv, "each": cEach, "info": cInfo, "un": cUn, "arange": cARange, "xper": cXPer, "atime": cATime,
	"coma": cComa, "cwt": cCwt, "method": cMethod, "soil": cSoil, "moist": cMoist, "idle": cIdle, "span": cSpan, "kind": cKind, "other": cOther, "month": cMonth, "mid": cMid, "place": cPlace, "scheme": cScheme,
}

// The token types that the grammar sees: a class each where the grammar needs to
// tell it apart, Cue for all that only the binding rules look at.
const (
	tNum lexer.TokenType = -2 - iota
	tNumFrac
	tScale
	tFrac
	tPoint
	tOh
	tAnd
	tRange
	tSlash
	tUnit
	tPer
	tPerLoad
	tPerThou
	tMoney
	tCue
)

var symbols = map[string]lexer.TokenType{
	"EOF": lexer.EOF, "Num": tNum, "NumFrac": tNumFrac, "Scale": tScale, "Frac": tFrac, "Point": tPoint, "Oh": tOh, "And": tAnd,
	"Range": tRange, "Slash": tSlash, "Unit": tUnit, "Per": tPer, "PerLoad": tPerLoad, "PerThou": tPerThou, "Money": tMoney, "Cue": tCue,
}

var grammarType = func() (t [numClasses]lexer.TokenType) {
	for c := range t {
		t[c] = tCue
	}
	t[cNum], t[cNumFrac], t[cScale], t[cFrac], t[cPoint], t[cOh] = tNum, tNumFrac, tScale, tFrac, tPoint, tOh
	t[cClash] = tUnit
	t[cAnd], t[cRange], t[cSlash], t[cUnit], t[cPer], t[cPerLoad], t[cPerThou], t[cMoney] = tAnd, tRange, tSlash, tUnit, tPer, tPerLoad, tPerThou, tMoney
	return t
}()
