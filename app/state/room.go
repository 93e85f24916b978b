package state

import "maps"

import "strings"

// A Room is how piece and sheet share the window while a sheet is in front.
type Room struct {
	SheetLarge bool  // the sheet is the large one of the two
	Alone      Alone // one of them has the whole window
}

// Alone says which of piece and sheet has the whole window.
type Alone int

// The choices.
const (
	Neither Alone = iota
	PieceAlone
	SheetAlone
)

// Room is that of the sheet in front.
func (s *Screen) Room() Room { return s.Rooms[s.Sheet] }

// Arrange gives the sheet in front another room.
func (s *Screen) Arrange(r Room) {
	rooms := make(map[string]Room, len(s.Rooms)+1)
	maps.Copy(rooms, s.Rooms)
	rooms[s.Sheet] = r
	s.Rooms = rooms
}

// Large are the names of the sheets that are the large ones, as they are remembered from one sitting to the next.
func (s *Screen) Large() (names []string) {
	for sheet, room := range s.Rooms {
		if room.SheetLarge {
			names = append(names, sheet)
		}
	}
	return names
}

// RoomsOf are the rooms where the sheets of some names are the large ones.
func RoomsOf(names []string) map[string]Room {
	rooms := map[string]Room{}
	for _, name := range names {
		if name = strings.TrimSpace(name); name != "" {
			rooms[name] = Room{SheetLarge: true}
		}
	}
	return rooms
}
