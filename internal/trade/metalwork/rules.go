package metalwork

import "drivewright/internal/base/explain"

// Rules returns the rules that judge patterns, fits, shims and bolts, in the order of the sheet.
func Rules() []explain.Rule[Patterned] {
	return []explain.Rule[Patterned]{patternViewNotSaid, ofNoPattern, readingDoesNotFit, readingNotUsed, tooFewReadings, nothingChecks, twoShapes, photoRefused, photoSheetAbove,
		patternNowhere, patternsDoNotFit, patternMoreWays, boltOfPatternNotSaid, fitUpUnfinished, restsOnThree,
		loadOfBoltsNotKnown, boltsNotEnough, boltSizeNotSaid, boltGradeNotSaid, shakeNotSaid, tooLittleThread, drillThroughTheMetal, boltTooNearTheEdge, threadLengthNotSaid}
}
