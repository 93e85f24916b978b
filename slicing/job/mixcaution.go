package job

// unmixed are the settings with all layers alike.
func (s Settings) unmixed() Settings {
	s.Mix = ""
	return s
}
