package power

import "drivewright/internal/base/explain"

// supplyRules are the rules of the supply side, in the order of the sheet.
var supplyRules = []explain.Rule[Result]{
	conductorTooSmall, conductorRunTooHot, tooManyWiresTogether, terminalsUnproven, terminalsMarkedTooHigh,
	cableSixtyColumn, conductorNotCopper, flexibleCordInWall, conductorNotInTable,
	deviceTooSmall, deviceMarginThin, breakerTooLarge, smallConductorException, deviceAboveMaker, deviceAboveMotorTable, boxNeedsDevice, limitsCollide, limitsLeaveThinMargin, instantaneousTrip,
	motorTableException, deviceNotAsAsked, smallerDeviceSavesWire, ratingNotStandard, circuitShared, ownCircuitNotSaid, connectionNotSaid,
	disconnectTooSmall, disconnectHorsepowerLow, disconnectNotForMotors, disconnectNotLockable,
	disconnectOutOfSight, liveWithSwitchOff, plugAsSwitch,
	noEquipmentGround, groundUnproven, groundNotSaid, frameNotGrounded, frameResistanceHigh, groundConductorTooSmall,
	groundConductorNotIncreased, singleGroundWithLeakage,
	dropRunning, dropAtOverload, supplyOf120, threePhaseSupply,
	shortCircuitRatingLow, shortCircuitRatingUnproven, interruptingRatingLow, faultCurrentAssumed,
	groundFaultTrip, groundFaultBlind, groundFaultTypeNotKnown, groundFaultUnknown, receptacleWithoutGroundFault,
	cordTooSmall, cordNotProtected, receptacleNoGround, receptacleWrongVoltage, receptacleTooSmall,
	receptacleTooLarge, cordVeryLong,
	racewayOverfull,
	filterOnUnearthed, filterOnCornerGrounded, neutralMissing, neutralNotSaid, loadWithoutSize, loadWithoutFuse, ventsInDust,
}

// supplyFormulas are the relations of the supply side, in the order of the sheet.
var supplyFormulas = []*explain.Formula{
	loadCurrent, circuitCurrent, driveConductorAmpacity, markedTerminal, unmarkedTerminal,
	insulationColumn, finalColumn, conductorAmpacity, ampacityCorrection, ampacityAdjustment, correctedAmpacity,
	installedAmpacity, smallestBranchConductor,
	deviceCurrent, standardDeviceRating, preferredDeviceRating, currentAtSupply, motorDeviceLimit,
	motorDeviceException, sharedDeviceLimit, conductorDeviceLimit, smallConductorDevice,
	disconnectAmpacity, disconnectBreak, switchBreaking,
	groundingConductor, proportionalGrounding, protectiveConductor, groundPathResistance,
	conductorResistance, conductorReactance, conductorImpedance, resistanceAtTemperature, loopResistance,
	resistanceSum, voltageDropFormula, dropSum, dropShare, dropByMils, conductorForDrop, longestRun, startDrop,
	voltageLeft, converterStart,
	coldResistance, transformerCurrent, transformerFault, pointToPoint,
	lineFilterCurrent, cableLeakage, leakageSum, groundFaultRating, leakageShare, groundFaultType,
	carryingInCord, cordAmpacity, cordCorrection, smallestCord, smallestReceptacle, receptacleRating,
	insulatedArea, racewayConductors, conductorsArea, racewayLimit, racewayArea, racewayShare, smallestRaceway,
	mostConductors,
}
