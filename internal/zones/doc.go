// Package zones proposes which heads share a valve: the fewest valves that the
// supply can feed, each with one planting, exposure, soil, slope, rate and
// pressure class. It is a proposer: seeded, with a budget counted in
// evaluations; it answers with an offer, and nothing is changed until that is
// applied.
//
// What a valve waters alike is its key: cover, exposure, soil, slope class (from
// 25 % its toe apart from the rest), the pressure its heads work at, and their own
// rates within ±10 % of the zone's. A plan has one supply, so all of its zones have
// one source of water.
//
// Aims, in order: fewest valves; fewest of them under the least flow that valve
// and pump want; compact zones; equal flows. On a well, a pond or a pump, equal flows
// come before compact zones. Compact is the length of the shortest tree that joins the
// heads of each zone, buildings gone round, and 50 ft more for each area that a zone
// has heads of: an area on two valves is less compact, and is cut only where it must
// be, or where keeping it whole would cost more pipe than that.
//
// Small questions are answered exactly, by trying every way to share heads among
// that many valves; larger ones by a seeded search from several starts. That there
// are not fewer valves is proved apart from either, by the bound of Martello and
// Toth for packing bins, or by trying all packings.
package zones
