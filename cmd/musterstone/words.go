package main

import (
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
)

// describe puts a claim in one line: "Corporal John T Holden, Company F, 47th Illinois Infantry, born about 1840, died 9 August 1864".
func describe(c model.Claim) string { return say.Claim(c) }

// reasons puts evidence in words, what speaks for the match and what against it, strongest first.
func reasons(evidence []model.Evidence) (pro, contra []string) { return say.Reasons(evidence) }
