package swatch

import (
	"errors"

	"grainstack/render/tone"
)

// A Balance takes the colour of a photo's light out, and its exposure where a card tells it. The zero Balance leaves a photo as
// it is.
type Balance struct {
	gain  tone.Light
	known bool
}

// Cards whose lightness is known, as a share of light that they throw back: the photographers' grey card, and white paper
// (common practice, no source: 80 to 90 %).
const (
	GreyCard   = 0.18
	WhitePaper = 0.85
)

// darkestCard is the least light that a card may send: below, a byte is a large part of it.
const darkestCard = 0.01

// BalanceOf is the balance that makes a patch of a card without colour neutral. reflects is the share of light that the card
// throws back, where the exposure is to be set as well; 0 leaves the card as light as it is. The error is a sentence.
func BalanceOf(card Patch, reflects float64) (Balance, error) {
	if card.Hard > 0.5 {
		return Balance{}, errors.New("the card is as light as the photo can say, so that its colour is lost: take the photo darker, or pick another card")
	}
	y := card.Light.Luminance()
	if reflects > 0 {
		y = float32(reflects)
	}
	b := Balance{known: true}
	for i, v := range card.Light {
		if v < darkestCard {
			return Balance{}, errors.New("the card is too dark to tell the colour of the light: pick a grey or white one in the same light as the board")
		}
		b.gain[i] = y / v
	}
	return b, nil
}

// Known reports whether a card was picked.
func (b Balance) Known() bool { return b.known }

// of is a light under the balance.
func (b Balance) of(l tone.Light) tone.Light {
	if !b.known {
		return l
	}
	return tone.Light{l[0] * b.gain[0], l[1] * b.gain[1], l[2] * b.gain[2]}
}

// Tone is a patch's tone under the balance, kept within what a colorimeter gives.
func (b Balance) Tone(p Patch) tone.Lab {
	t := b.of(p.Light).Lab()
	return tone.Lab{min(max(t[0], 0), 100), min(max(t[1], -128), 128), min(max(t[2], -128), 128)}
}
