package heat

import (
	"slices"

	"drivewright/internal/base/explain"
)

// Formulas are the relations that this package uses, in the order of the sheet.
func Formulas() []*explain.Formula { return slices.Clone(formulas) }

var formulas = []*explain.Formula{
	typicalDriveLoss, driveLoss, currentLoss, conversionLoss, sunHeat, neighbourPush,
	rectangle, effectiveSurface, wallTransfer, faceConductance, faceHeat, sealedRise, heatPassed,
	tabulatedRise, topFactor, topRise, layerFactor, plateConvection, radiation, twoFilms,
	freeOpening, filterDrag, draughtPressure, naturalFlow, ventedRise, cloggedFlow, fanRise, airHeatFormula,
	airThere, warmestForCurrent, marginThere, outputThere, allowedRise,
	surfaceNeeded, heatWithFinsOutside, flowNeeded, openingNeeded, cutOutNeeded, largerOutlet, fanToBuy, coolerShop,
	readingsFinal, readingsTime, dutyPeak, warmingTime,
}
