package model

import (
	"math"
	"slices"
)

// mostAway is how far from the middle of its burial ground a stone may lie to be thought of as in it, in metres. House judgement: a sign lost from a longitude, or figures that changed places, put it much farther.
const mostAway = 10_000

// degree is how many metres a degree of latitude is taken to have, and a degree of longitude at the equator: from memory, and near enough for a burial ground.
const degree = 111_320

// From is how far a position lies east and north of one near it, in metres.
func (p Position) From(q Position) (east, north float64) {
	return (p.Longitude - q.Longitude) * math.Cos(q.Latitude*math.Pi/180) * degree, (p.Latitude - q.Latitude) * degree
}

// FarOff reports which of the positions of one burial ground lie so far from the middle of all that they must be wrong; nil is no position. Of fewer than three nothing can be told.
func FarOff(at []*Position) []bool {
	far := make([]bool, len(at))
	var north, east []float64
	for _, p := range at {
		if p != nil {
			north, east = append(north, p.Latitude), append(east, p.Longitude)
		}
	}
	if len(north) < 3 {
		return far
	}
	slices.Sort(north)
	slices.Sort(east)
	middle := Position{Latitude: north[len(north)/2], Longitude: east[len(east)/2]}
	for i, p := range at {
		if p != nil {
			far[i] = math.Hypot(p.From(middle)) > mostAway
		}
	}
	return far
}
