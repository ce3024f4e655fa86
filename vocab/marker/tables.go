package marker

import "musterstone/model"

// The things a recorder looks at, one code each.
const (
	top = iota
	material
	lettering
	device
	setting
	emblem
	looks
)

var lookNames = [looks]string{"top", "material", "lettering", "device", "setting", "emblem"}

// The shares of pattern-shares.csv that speak of words.
const (
	unit = iota
	branch
	veteran
	undated
	deathOnly
	home
	epitaph
	several
	inMemory
	honor
	unknown
	number
	grave
	shares
)

var shareNames = [shares]string{"unit", "branch", "veteran", "undated", "death_only", "home", "epitaph", "several", "in_memory",
	"honor", "unknown", "number", "grave"}

// The forms of a unit in service-classes.csv.
const (
	formState = iota
	formRegulars
	formBody
	formNumbered
	formDivision
	formOther
	forms
)

var formNames = [forms]string{"state", "regulars", "body", "numbered", "division", "other"}

// class is a service that a marker may imply.
type class struct {
	code, label              string
	conflict                 model.ConflictCode
	also                     []model.ConflictCode // that it takes in
	side                     model.Side
	from, to, bornFrom, born int // born is the last year of birth
	diedTo                   int
	base                     float64
	form                     [forms]float64 // log share
	// logDied and logBorn are the logs of the share of its people for a year of death or birth within reach.
	logDied, logBorn float64
}

// look is a thing recorded with a code.
type look struct {
	values []string
	said   []string // the values as told to people
	index  map[string]int
	// log[value] is the log-likelihood of the recorded value, a pattern each.
	log [][]float64
	// bits is what it tells of the pattern on average, in an ordinary burial ground.
	bits float64
}

// tables are the tables of knowledge, worked out once into arrays.
type tables struct {
	weights
	patterns []Pattern
	at       map[model.PatternCode]int
	private  int // index of not-government
	prior    [grounds][]float64
	share    [shares][]float64 // a pattern each, plain probability
	// has and lacks are the logs of a share and of its complement; names those of naming someone, nobody, or a number; dates those of
	// undated, death only, both.
	has, lacks   [shares][]float64
	names, dates [3][]float64
	silent       []float64 // log of no word of service, for those who served, a pattern each
	classes      []class
	none         int
	// words[unit, branch, veteran][war] is the log share of such words, pattern by class; words[unserving][0] that of no word of service, words[unserving][1] the same where some
	// words could not be placed, and may have been of service.
	words [4][3][]float64
	idle  [3]float64 // log of unit, branch or VETERAN in the words of one who did not serve
	// service[p*S+c] is the log share of class c in pattern p; named and unnamed the logs of how often the war is named, and not.
	service, named, unnamed []float64
	listed                  []bool // p*S+c: the table lists the class for the pattern
	looks                   [looks]look
	sizes                   []sizeRow
	first                   []int // first size of each pattern; one more at the end
	grid                    [measures][]float64
	// spread[measure][p*gridCells+cell] is the probability of a reading on the grid, normalised
	spread      [measures][]float64
	measureBits [measures]float64
	wordBits    float64
	clues       *clueTable
	side        map[model.State]float64
	deaths      []int // a pattern each: the first year of death that is nothing odd
	from, to    []int
}

// weights are those of marker-weights.csv: shares that no table of patterns has, most of them this program's own judgement.
type weights struct {
	OtherService, EmblemSeen, EmblemImagined, IdleUnit, IdleBranch, IdleVeteran, Unserved, WarNamed float64
	CarvedGovernment, CarvedPrivate, CarvedBits, SocietyGovernment, SocietyPrivate                  float64
	SouthernElsewhere, SouthernOverall                                                              float64
	DeathAfterIssue, EarlyDeath, EarlyDeathNear, EarlyDeathYears                                    float64
	WordingOtherService, WordingSeldom, WordingAfterIssue, WordingBeforeIssue                       float64
	OtherConflict, OtherSide, NoSide                                                                float64
	Swapped, Centimetres, Unexplained                                                               float64
	RegisterServed, RegisterSilent, WrongList                                                       float64
}

// What words of service say of the war, and the place of none among them.
const (
	warOpen   = iota // cannot be told, words being lost
	warNamed         // it is named
	warLeft          // it is not named
	unserving = 3
)

// logNever is the log of the share of a service's people who were born or died outside its reach, for a misread year.
const logNever = -11

// logUnplaced is the log of how often the words of a marker that does speak of service are among those that could not be placed.
const logUnplaced = -3.2
