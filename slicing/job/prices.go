package job

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"grainstack/slicing/stock"
)

// Prices are what one board of a kind costs, in the maker's money, by key: "walnut-18-13:145, beech-18-13:90". They are
// written in one way, in the order of the keys, so that equal prices are equal strings.
type Prices string

type price struct {
	key  string
	cost float64
}

// mostPrice is what no board costs in any money.
const mostPrice = 1e9

// ParsePrices reads boards with their prices, as in "walnut-18-13:145, beech-18-13:90". The error is a sentence for the maker.
func ParsePrices(text string) (Prices, error) {
	if len(text) > mixLimit {
		return "", fmt.Errorf("the list of prices is longer than %d letters: no catalogue has so many boards", mixLimit)
	}
	var all []price
	for word := range strings.SplitSeq(text, ",") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		key, figure, _ := strings.Cut(word, ":")
		key = strings.TrimSpace(key)
		cost, err := strconv.ParseFloat(strings.TrimSpace(figure), 64)
		switch {
		case err != nil || !(cost >= 0 && cost <= mostPrice):
			return "", fmt.Errorf("%q is no board with its price: write the board's key, a colon and 0 to %.0f, as in walnut-18-13:145", word, mostPrice)
		case key == "" || !keyed(key):
			return "", fmt.Errorf("%q can't be the key of a board", key)
		case slices.ContainsFunc(all, func(p price) bool { return p.key == key }):
			return "", fmt.Errorf("the board %s has two prices: give it one", key)
		}
		all = append(all, price{key, cost})
	}
	return written(all), nil
}

func written(all []price) Prices {
	slices.SortFunc(all, func(a, b price) int { return cmp.Compare(a.key, b.key) })
	words := make([]string, len(all))
	for i, p := range all {
		words[i] = p.key + ":" + strconv.FormatFloat(p.cost, 'f', -1, 64)
	}
	return Prices(strings.Join(words, ", "))
}

// with are the prices with another one for a board; 0 takes it out. What would be more than any catalogue has is left out.
func (p Prices) with(key string, cost float64) Prices {
	var all []price
	for word := range strings.SplitSeq(string(p), ", ") {
		if k, _, _ := strings.Cut(word, ":"); k != key && k != "" {
			old, _ := p.Of(k)
			all = append(all, price{k, old})
		}
	}
	if cost > 0 && cost <= mostPrice && keyed(key) {
		all = append(all, price{key, cost})
	}
	if next := written(all); len(next) <= mixLimit {
		return next
	}
	return p
}

// Of is the price of a board; ok is false where it is not known.
func (p Prices) Of(key string) (cost float64, ok bool) {
	for word := range strings.SplitSeq(string(p), ", ") {
		if k, figure, _ := strings.Cut(word, ":"); k == key && k != "" {
			cost, err := strconv.ParseFloat(figure, 64)
			return cost, err == nil
		}
	}
	return 0, false
}

// UnmarshalText reads prices from a file, where a hand may have written them.
func (p *Prices) UnmarshalText(text []byte) (err error) {
	*p, err = ParsePrices(string(text))
	return err
}

// WithPrices are the settings with prices of boards: that of the board in use and those of any other.
func (s Settings) WithPrices(p Prices, c *stock.Catalogue) (Settings, error) {
	for word := range strings.SplitSeq(string(p), ", ") {
		if key, _, _ := strings.Cut(word, ":"); key != "" {
			if err := SettingOf("board").missing(key, c); err != nil {
				return s, err
			}
		}
	}
	if own, ok := p.Of(s.Board); ok {
		s.Shop.SheetPrice = own
	}
	s.Shop.Prices = p
	return s, nil
}

// WithPrice are the settings with the price of a board, 0 where it is not known.
func (s Settings) WithPrice(key string, cost float64) Settings {
	if key == s.Board {
		s.Shop.SheetPrice = cost
	}
	s.Shop.Prices = s.Shop.Prices.with(key, cost)
	return s
}

// WithBoard are the settings with another board for most layers, at its own price: that of the board before is remembered.
func (s Settings) WithBoard(key string) Settings {
	if key == s.Board {
		return s
	}
	s.Shop.Prices = s.Shop.Prices.with(s.Board, s.Shop.SheetPrice)
	s.Shop.SheetPrice = s.Price(key)
	s.Board = key
	return s
}

// Price is that of one board, 0 where it is not known.
func (s Settings) Price(key string) float64 {
	if key == s.Board {
		return s.Shop.SheetPrice
	}
	cost, _ := s.Shop.Prices.Of(key)
	return cost
}
