// Package phrase puts numbers, conditions and sentences as the report's pages, figures and the
// terminal print them, so that all say the same alike.
//
// Its nouns: a Scale is a unit that results are shown in; a Condition is what shots made alike
// share; a Line is one thing told, a Headline the answer in one sentence. A number carries as many
// digits as its uncertainty supports; one that somebody stated keeps all of its own.
package phrase
