package main

import (
	"math"
	"slices"

	"leadmark/scripts/claim"
	"leadmark/vision/synth/studies"
)

// claims holds what docs/method.md claims of reading. chance is how many times less well than from 45
// frames a class a figure may be known; only from so many is each class held on its own.
func (r results) claims(chance float64) *claim.Study {
	s := new(claim.Study)
	within := func(l claim.Limit, v float64) claim.Limit { return l.Within(v * chance) }
	var single []outcome
	for _, class := range studies.Classes() {
		single = append(single, r[class]...)
	}
	drawn := slices.Concat(single, r["decoy"])
	all := readable(drawn)
	s.LeftOut("not readable by the scene", len(drawn)-len(all), len(drawn), 0.01)
	s.Hold("read", claim.ShareOf(all, isRead), within(claim.AtLeast(0.98), 0.03))
	s.Hold("read, told nothing", claim.ShareOf(single, isAlone), within(claim.AtLeast(0.95), 0.03))
	s.Hold("wrong", claim.ShareOf(all, func(x *outcome) bool { return x.wrong }), within(claim.AtMost(0.005), 0.02))
	s.Hold("told nothing, by another graduation", claim.ShareOf(single, func(x *outcome) bool { return x.wrongAlone }),
		within(claim.AtMost(0.005), 0.03))
	s.LeftOut("told nothing, by another graduation and said to be unsure",
		count(single, func(x *outcome) bool { return x.unsure }), len(single), 0.1)
	s.Hold("read where there is no ruler", claim.ShareOf(r["none"], isRead), within(claim.AtMost(0.005), 0.03))

	off := claim.Values(all, at10)
	s.Hold("advance at 10 px/mm, median", claim.Quantile(0.5, off).In("mm", 1), within(claim.AtMost(0.015), 0.006))
	s.Hold("advance at 10 px/mm, 95 %", claim.Quantile(0.95, off).In("mm", 1), within(claim.AtMost(0.08), 0.15))
	s.Hold("front end, median", claim.Quantile(0.5, claim.Values(all, front)).In("px", 1), within(claim.AtMost(0.25), 0.1))
	holdUncertainties(s, r, all, chance)
	return s
}

// holdUncertainties holds stated uncertainties against errors.
func holdUncertainties(s *claim.Study, r results, all []outcome, chance float64) {
	within := func(l claim.Limit, v float64) claim.Limit { return l.Within(v * chance) }
	read := claim.Those(all, isRead)
	s.Hold("read, with uncertainties", claim.ShareOf(read, func(x *outcome) bool {
		return !math.IsNaN(held(0, x.u)) && !math.IsNaN(held(0, x.frontU))
	}), claim.AtLeast(1))
	s.Hold("advance within twice its u", claim.ShareOf(read, func(x *outcome) bool { return ratio(x) <= 2 }),
		within(claim.Between(0.9, 0.99), 0.04))
	s.Hold("front end within twice its u", claim.ShareOf(read, func(x *outcome) bool { return ratioF(x) <= 2 }),
		within(claim.Between(0.9, 0.99), 0.04))
	s.Hold("advance over its u", robust(claim.Values(all, ratio)), within(claim.Between(0.8, 1.25), 0.4))
	s.Hold("front end over its u", robust(claim.Values(all, ratioF)), within(claim.Between(0.7, 1.25), 0.4))
	for _, class := range append(studies.Classes(), "decoy") {
		if chance > 1 {
			break
		}
		list := readable(r[class])
		s.Hold("advance over its u, "+class, robust(claim.Values(list, ratio)), within(claim.Between(0.5, 1.6), 1.3))
		s.Hold("front end over its u, "+class, robust(claim.Values(list, ratioF)), within(claim.Between(0.5, 1.6), 1.3))
	}
	s.Hold("clean: front end over its bound", overBound(r["clean"]), within(claim.Between(1, 2.1), 0.6))
	square := claim.Values(r["clean"], func(x *outcome) float64 { return x.along })
	s.Hold("clean: front end, r.m.s.", claim.Spread(square).In("px", 1), within(claim.AtMost(0.008), 0.003))
}

func readable(list []outcome) []outcome {
	return claim.Those(list, func(x *outcome) bool { return x.readable })
}
