package main

import (
	"flag"
	"fmt"
	"image"
	"strconv"
	"strings"

	"grainstack/render/swatch"
	"grainstack/render/tone"
	"grainstack/slicing/job"
	"grainstack/slicing/stock"
)

// A toneFlags is what the flags say about the maker's own board.
type toneFlags struct {
	tones, photo, places, card string
}

func (f *toneFlags) bind(set *flag.FlagSet) {
	set.StringVar(&f.tones, "tones", "", "`LIGHT,DARK,END` colours of the finished board's veneers and end grain, as in d9b38c,c79a6b,a87443; none takes the catalogue's again")
	set.StringVar(&f.photo, "photo", "", "`FILE` with a photo of the finished board, PNG or JPEG, to take these colours from")
	set.StringVar(&f.places, "photo-at", "", "`PLACES` of light veneer, dark veneer and end grain on the photo, in pixels from its upper left, as in \"120,300 400,310 220,90\"")
	set.StringVar(&f.card, "photo-card", "", "`PLACE` of a card on the photo to balance its colour by, and which card: \"20,20 grey\", \"20,20 white\", or \"20,20\" for its hue alone")
}

// apply gives the settings with the tones that the flags name or that are on the photo.
func (f *toneFlags) apply(s job.Settings) (job.Settings, error) {
	switch {
	case f.photo == "" && (f.places != "" || f.card != ""):
		return s, &usageError{"places on a photo are given, but no -photo"}
	case f.photo != "" && f.tones != "":
		return s, &usageError{"give the colours or a photo, not both"}
	case f.photo != "":
		t, err := f.measured()
		s.Tones = t
		return s, err
	case f.tones == "none":
		s.Tones = job.Tones{}
	case f.tones != "":
		words := strings.Split(f.tones, ",")
		if len(words) != 3 {
			return s, &usageError{fmt.Sprintf("three colours with commas are wanted, as in d9b38c,c79a6b,a87443, not %q", f.tones)}
		}
		var labs [3]tone.Lab
		for i, w := range words {
			var err error
			if labs[i], err = tone.ParseHex(w); err != nil {
				return s, &usageError{err.Error()}
			}
		}
		s.Tones = ownTones(labs)
	}
	return s, nil
}

func ownTones(labs [3]tone.Lab) job.Tones {
	return job.Tones{Own: true, Light: stock.Lab(labs[0]), Dark: stock.Lab(labs[1]), End: stock.Lab(labs[2])}
}

// measured takes the tones from the photo.
func (f *toneFlags) measured() (job.Tones, error) {
	words := strings.Fields(f.places)
	if len(words) != 3 {
		return job.Tones{}, &usageError{`three places on the photo are wanted with -photo-at, as in "120,300 400,310 220,90"`}
	}
	p, err := swatch.Open(f.photo)
	if err != nil {
		return job.Tones{}, err
	}
	b, err := f.balance(p)
	if err != nil {
		return job.Tones{}, err
	}
	var labs [3]tone.Lab
	for i, w := range words {
		patch, err := patchAt(p, w)
		if err != nil {
			return job.Tones{}, err
		}
		labs[i] = b.Tone(patch)
	}
	return ownTones(labs), nil
}

// balance is that of the card, if one is named.
func (f *toneFlags) balance(p *swatch.Photo) (swatch.Balance, error) {
	words := strings.Fields(f.card)
	if len(words) == 0 {
		return swatch.Balance{}, nil
	}
	reflects, known := map[string]float64{"": 0, "grey": swatch.GreyCard, "white": swatch.WhitePaper}[strings.Join(words[1:], " ")]
	if !known {
		return swatch.Balance{}, &usageError{fmt.Sprintf("the card is grey or white, not %q", strings.Join(words[1:], " "))}
	}
	card, err := patchAt(p, words[0])
	if err != nil {
		return swatch.Balance{}, err
	}
	return swatch.BalanceOf(card, reflects)
}

func patchAt(p *swatch.Photo, word string) (swatch.Patch, error) {
	first, second, ok := strings.Cut(word, ",")
	x, errX := strconv.Atoi(first)
	y, errY := strconv.Atoi(second)
	if !ok || errX != nil || errY != nil {
		return swatch.Patch{}, &usageError{fmt.Sprintf("%q is no place on a photo: give two numbers of pixels, as in 120,300", word)}
	}
	return p.Patch(image.Pt(x, y), p.UsualRadius())
}
