// Package tone turns the tones that wood is measured in into light and into pixels.
//
// It takes CIELAB values under D65 (CIE 15), and gives linear light in the sRGB primaries and sRGB bytes
// (IEC 61966-2-1). Light is mixed and shaded linear; only the finished pixel is encoded, by a table.
package tone
