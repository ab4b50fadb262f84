package engine

import (
	"fmt"
	"strings"
)

// Problem is the one error for everything an operator can cause. Code is one of
// the codes below; Slot and Words say what it is about.
type Problem struct {
	Code  string
	Slot  Slot
	Of    string
	Words []string
	Value float64 // the offending value, in base units of Slot
	Limit float64 // what it was held against, in base units of Slot
}

// Error is for logs; phrases words it for people.
func (p *Problem) Error() string {
	return fmt.Sprintf("%s %s %s", p.Code, p.Slot, strings.Join(p.Words, " "))
}

// The problem codes: one cause, one code, one sentence per language.
const (
	Ambiguous         = "ambiguous"          // two readings: Choices
	ConflictCode      = "conflict"           // over-determined facts that disagree: Conflict
	Vague             = "vague"              // "a few", "some": Words[0]
	UnknownCrop       = "unknown_crop"       // Words[0]
	WhichCrop         = "which_crop"         // a seed amount without its crop
	RyeOrRyegrass     = "rye_or_ryegrass"    // never guessed
	UnknownUnit       = "unknown_unit"       // Words[0] after a number
	AmbiguousUnit     = "ambiguous_unit"     // bare "t", "m", "ton": Words[0], Choices
	LabUnit           = "lab_unit"           // a lab sheet's numbers without a unit: Words[0]
	WrongUnit         = "wrong_unit"         // "tank 3000 acres": Slot, Words[0]
	NumberForm        = "number_form"        // "three oh five", "3.000": Words[0], Choices
	WhichOfTwo        = "which_of_two"       // "6000/8000": Choices
	LooseNumber       = "loose_number"       // a number that could not be placed: Words[0]
	PLSOrBulk         = "pls_or_bulk"        // is that pure live seed?
	POrP2O5           = "p_or_p2o5"          // phosphorus or phosphate
	KOrK2O            = "k_or_k2o"           // potassium or potash
	PKOrOxides        = "pk_or_oxides"       // both of them on one sheet
	Absurd            = "absurd"             // far outside the band: Slot, Value
	NotPositive       = "not_positive"       // zero or negative: Slot
	ConfirmUnusual    = "confirm_unusual"    // outside the band, before it is logged: Slot
	ConfirmLoads      = "confirm_loads"      // loads that may be done or planned
	CountBefore       = "count_before"       // loads logged before a field was named: Words[0] how many, [1] the field
	PumpTooSmall      = "pump_too_small"     // needed flow above the pump's
	Extrapolation     = "extrapolation"      // gate outside the recorded runs
	RunsContradict    = "runs_contradict"    // gate runs that are not monotone
	NoRuns            = "no_runs"            // no gate run recorded yet
	TooFewSamples     = "too_few_samples"    // fewer than three jars
	TreatedSeed       = "treated_seed"       // refused
	OverFull          = "over_full"          // load bigger than the tank
	NothingLeft       = "nothing_left"       // the field is done
	NoCurve           = "no_curve"           // needs two runs
	TooLong           = "too_long"           // over 2,000 characters
	NotText           = "not_text"           // nothing readable in it
	Empty             = "empty"              // a blank line
	NotUnderstoodCode = "not_understood"     // nothing usable was read
	OffTopic          = "off_topic"          // outside the job
	Negated           = "negated"            // a "not"/"without" that changes the meaning: Words
	NothingToUndo     = "nothing_to_undo"    // no load to take back
	NothingToCorrect  = "nothing_to_correct" // no load to correct
	NoLoad            = "no_load"            // no load of that number among the latest: Words[0]
	NoField           = "no_field"           // no field of that name: Words[0]
	WhichField        = "which_field"        // several match: Choices
	NoFieldYet        = "no_field_yet"       // none started
	NothingPending    = "nothing_pending"    // "yes" to nothing
	OldFact           = "old_fact"           // remembered, older than a day: Slot
	WhatAsked         = "what_asked"         // a yes or no about a fact: Words[0]
	NotKnown          = "not_known"          // "what's my pump?" without one: Slot
	CropNeeded        = "crop_needed"        // the question needs a crop
	FrostNeeded       = "frost_needed"       // asks place or frost date
	NotAllowed        = "not_allowed"        // nothing the bot may do
	WhatValue         = "what_value"         // a correction or "at" without a value
	WhenInFuture      = "when_in_future"     // a load logged ahead of time
	WhatUnit          = "what_unit"          // convert without a target
	CannotConvert     = "cannot_convert"     // between dimensions
	OddResult         = "odd_result"         // what comes out cannot be right: Subject
	Broken            = "broken"             // a fault of ours; nothing was logged
	NotYours          = "not_yours"          // somebody else logged that load: Words[0]
	ConfirmClear      = "confirm_clear"      // everything remembered would go
	ConfirmForget     = "confirm_forget"     // a field would go: Words[0]
	ConfirmHeard      = "confirm_heard"      // a voice note that was not heard well: Words[0]
	NoVoice           = "no_voice"           // answers cannot be spoken here
)

// Problems lists every code, for the tests of the texts.
var Problems = []string{Ambiguous, ConflictCode, Vague, UnknownCrop, WhichCrop, RyeOrRyegrass, UnknownUnit, AmbiguousUnit, LabUnit, WrongUnit,
	NumberForm, WhichOfTwo, LooseNumber, PLSOrBulk, POrP2O5, KOrK2O, PKOrOxides, Absurd, NotPositive, ConfirmUnusual, PumpTooSmall, Extrapolation,
	RunsContradict, NoRuns, TooFewSamples, TreatedSeed, OverFull, NothingLeft, NoCurve, TooLong, NotText, Empty, NotUnderstoodCode,
	OffTopic, Negated, NothingToUndo, NothingToCorrect, NoLoad, NoField, WhichField, NoFieldYet, NothingPending, OldFact, WhatAsked, NotKnown, CropNeeded,
	FrostNeeded, NotAllowed, WhatValue, WhenInFuture, WhatUnit, CannotConvert, OddResult, Broken, NotYours, ConfirmClear, ConfirmForget, ConfirmLoads, CountBefore,
	ConfirmHeard, NoVoice}

// The things that the bot does, keys of their wording.
const (
	ActRemembered     = "remembered"
	ActForgot         = "forgot"
	ActForgotAll      = "forgot_all"
	ActLogged         = "logged"
	ActUndone         = "undone"
	ActMoved          = "moved"
	ActCorrected      = "corrected"
	ActFieldStarted   = "field_started"
	ActFieldNamed     = "field_named"
	ActFieldSwitched  = "field_switched"
	ActFieldClosed    = "field_closed"
	ActLanguageSet    = "language_set"
	ActUnitsSet       = "units_set"
	ActDropped        = "dropped"
	ActRunRecorded    = "run_recorded"
	ActRunsForgotten  = "runs_forgotten"
	ActRunsListed     = "runs_listed"
	ActReturnsListed  = "returns_listed"
	ActNoted          = "noted"
	ActConfirmed      = "confirmed"
	ActSetupShown     = "setup_shown"
	ActTotals         = "totals"
	ActLoadsListed    = "loads_listed"
	ActFieldsListed   = "fields_listed"
	ActLimitSet       = "limit_set"
	ActFrostSet       = "frost_set"
	ActStartSet       = "start_set"
	ActSchemeSet      = "scheme_set"
	ActGreeting       = "greeting"
	ActThanks         = "thanks"
	ActFieldForgotten = "field_forgotten"
	ActSpeakOn        = "speak_on"
	ActSpeakOff       = "speak_off"
)

// Acts lists every act, for the tests of the texts.
var Acts = []string{ActRemembered, ActForgot, ActForgotAll, ActLogged, ActUndone, ActCorrected, ActMoved, ActFieldStarted, ActFieldNamed,
	ActFieldSwitched, ActFieldClosed, ActLanguageSet, ActUnitsSet, ActDropped, ActRunRecorded, ActRunsForgotten, ActRunsListed, ActReturnsListed, ActNoted,
	ActConfirmed, ActSetupShown, ActTotals, ActLoadsListed, ActFieldsListed, ActLimitSet, ActFrostSet, ActStartSet, ActSchemeSet, ActGreeting, ActThanks, ActFieldForgotten,
	ActSpeakOn, ActSpeakOff}

// InfoKeys lists the fixed texts: safety topics, practice, help.
var InfoKeys = []string{"help", "help_load", "help_flow", "help_log", "help_setup", "help_field", "safety_emergency", "safety_reentry", "safety_general", "safety_gas",
	"safety_confined", "safety_pto", "safety_hydraulic", "safety_road", "safety_slope", "safety_treated_seed", "safety_runoff",
	"safety_biosecurity", "safety_phone", "safety_children", "tank_order", "inoculant", "gang_angle", "tube_spacing", "tube_plugging",
	"ground_speed", "overnight_load", "standing_load", "settling", "seed_slugs", "seed_floating", "load_amiss", "timing", "frost", "setbacks", "frozen_ground", "wet_ground", "rain", "tile"}

// NoteIDs lists every note the engine, the parser or the bot can attach.
var NoteIDs = []string{"presoak", "straight_in", "check_passage", "poor_fit", "no_presoak", "unusual_value", "unusual_seed_rate",
	"poor_mixing", "mixing_ok", "stir_short", "stir_enough", "pump_share_high", "stop_before_reading", "gas", "confined_space", "pto", "road", "slope", "treated_seed", "runoff",
	"depth_over_limit", "depth_near_limit", "depth_under_limit", "typical_analysis", "availability_scheme", "heel_counts", "pump_at_rated_speed",
	"about", "unit_implied", "spelling", "shares_over_100", "local_rules", "phosphate_over_need", "nutrient_within_limit", "nutrient_over_limit", "nutrient_enough", "nutrient_maybe", "nutrient_short", "ride_together", "uneven",
	"even", "floats_up", "settles", "off_target", "no_inoculant_promise", "cold_soil", "what_if", "seed_just_before", "rate_over_limit", "load_number",
	"time_ahead", "extra_doubt", "old_value", "last_load_scaled", "test_weight", "seed_short", "turnover_shortens", "no_share",
	"all_nitrogen", "needs_ammonium", "kind_needed", "sinks", "hull_floats", "load_unmeasured", "field_is_new", "loads_taken_in", "seed_untold", "tool_keeps_up", "loads_elsewhere", "sum_unmeasured", "few_seeds", "same_shaft", "rate_at_pace", "flow_at_pace", "say_moisture", "usual_seed_rate", "low_seed_rate", "high_seed_rate",
	"what_if_of", "left_out", "fresh_only", "loads_open"}
