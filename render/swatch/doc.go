// Package swatch takes tones from a photo of a maker's own board.
//
// It takes the bytes of a PNG or JPEG file and places on it, and gives the tone round a place in CIELAB under D65, with how much
// its pixels differ. Photos are taken as sRGB (IEC 61966-2-1), whatever profile they carry. The tone is the median of each
// channel in linear light, which up to half of the pixels may spoil without carrying it away; a grey or white card on the photo
// takes the light's colour out by a gain for each channel (von Kries' rule in the photo's own primaries, as cameras balance
// white), and, where the card's lightness is known, sets the exposure.
package swatch
