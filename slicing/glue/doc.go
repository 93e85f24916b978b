// Package glue plans the glue-up and what follows it: glue, clamps and order of pressings, what has to be lifted, whether the
// finished piece stands, sanding and varnish.
//
// It takes plain figures: areas of contact, heights and masses of layers, the base that the piece stands on. Lengths are mm,
// areas mm², volumes mm³, mass g, force N, pressure MPa (N/mm²), times minutes unless a name says otherwise.
//
// Order: neighbours in pairs, then pairs of pairs, so that the last layer has been in the clamps ceil(log2 n) times and no
// pressing has more than one joint open. Lifting: the revised NIOSH lifting equation (Waters, Putz-Anderson and Garg,
// NIOSH 94-110, rev. 9/2021). Balance: the vertical through the centre of mass against the convex hull of the contact with
// the floor (statics; hull by Andrew's monotone chain, Information Processing Letters 9(5), 1979).
package glue
