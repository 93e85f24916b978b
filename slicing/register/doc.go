// Package register brings scans of one piece together (registration): each gets the placement, a turn, a scale and a shift, that
// carries it into the frame of the first.
//
// From matching points: the similarity of least squares (Umeyama, IEEE PAMI 13(4), 1991). Without points: signatures of the shape
// round each point (Rusu, Blodow, Beetz, "Fast point feature histograms", ICRA 2009) are matched, pairs of matches whose points and
// normals agree give placements (point pairs after Drost, Ulrich, Navab, Ilic, CVPR 2010), and the placement wins under which most of
// both surfaces lies on the other. Then all scans settle together: least squares of distances from tangent planes (Chen and Medioni,
// ICRA 1991), trimmed (Chetverikov, Svirko, Stepanov, Krsek, ICPR 2002), over turns, shifts and scales of all scans at once, so that
// errors don't add up round the piece.
//
// Lengths are in the units of the first scan.
package register
