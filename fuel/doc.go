// Package fuel holds what a motorcycle drinks: litres, consumption, the bike,
// and the fuel that a stretch of ground takes.
//
// Start with [ReadBike] or [DefaultBike], then [NewCourse] over the runs of a
// [route.Line]; [Course.Between] gives the fuel of any stretch of it, low, likely
// and high. [Course.Needs] gives the same kept apart by ground and climb, for what a
// rider's own tanks tell of (fuel/learn).
//
// The idea that surprises: hard gravel costs almost nothing, sand costs double.
// So fuel is counted by kilometres of each ground, never by one factor for "off
// road", and climbing is added in litres for the metres climbed, not as a share.
//
// # The model
//
//	litres = (Σ ridden km × rate/100 × weight of the ground + m·g·climb/(η·H)) × ethanol × thirst
//
// How far off that may be, low and high, is a band: of what is known of the bike's thirst,
// of the weights of the grounds, of what one tank scatters and of brims. It is of all that
// is burnt from one brim to the next, so that bands are not added: an [Amount] is, and
// [Forecast] has the band of it. Before a bike's first tank a maker's figure is off by
// 12 % and one from two or more own tanks by 6 % (our measurement, see fuel/learn).
//
// # Limits
//
// Nothing is credited for descents, for altitude or for riding in a group. Wind,
// load, tyres and an engine that runs rich are one number, the thirst, that the
// rider gives. The weights of the grounds are our estimate; a rider's own
// fill-ups are better.
//
// # Sources
//
//	[1] NIST Handbook 44, Appendix C: US gallon of 231 cubic inches.
//	[2] NIST SP 811, B.6: foot of 0.3048 m, so the mile of 1609.344 m; B.5:
//	    235.215 / (miles per US gallon) is L/100 km.
//	[3] US Department of Energy, AFDC fuel property table: petrol 115 000,
//	    ethanol 76 000 Btu per US gallon.
//	[4] Moyer, Carvill and others on rolling resistance by surface; the bands are
//	    wide (gravel 0.01 to 0.06, sand 0.1 to 0.4), see the weights.
package fuel
