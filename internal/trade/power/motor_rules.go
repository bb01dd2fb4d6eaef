package power

import "drivewright/internal/base/explain"

// motorRules are the rules of the motor side, in the order of the sheet.
var motorRules = []explain.Rule[Result]{
	motorSinglePhase, motorMayBeSinglePhase, plateIncomplete, supplyUnknown,
	voltageOutOfReach, voltageShort, voltsBarelyReach, supplySags, supplyAboveMotor, oddVoltageRatio, frequencyDiffers,
	leadGroupsImpossible, leadsDontFitPlate, leadsUnmarked, leadsTwoWays, leadsNotCounted, leadsOfSeveralSpeeds, speedCurrentsNotGiven,
	plateCurrentContradicts, plateCurrentsUnpaired, plateCurrentsOutOfProportion, plateCurrentMissing, plateSpeedContradicts, codeLetterUnlikely, windingResistanceUnlikely, serviceFactorUsed,
	brakeAtMotor, speedSwitchLive, severalMotors, smallMotorBeside, loadOnDriveOutput, secondMotorUnprotected,
	restartsByItself, switchInMotorLeads, mainSwitchStarts, startedVeryOften, runByOthers, keypadOnly, reverseUnscrews, reverseOnCutter,
	startStopNotSaid, oldSwitchNotSaid, machineKindNotSaid, reverseNotSaid, spindleNotSaid,
	driveTooSmall, noTypicalDrive, driveByHorsepower, inputPhasesUnknown, inputCurrentEstimated, driveInputVoltageWrong, threePhaseDrive, phaseLossTrips, startDutyShort, carrierHigh, driveTooHot, thinAir,
	overloadNotSet, overloadTooHigh, overloadTooLow, noOverload, oldHeaters, autoReset, sensorUnused,
	tooSlowForFan, wheelOverspeed, motorOverspeed, dutyUnknown, timeRated,
	oldInsulation, voltagePeaks, oldWindingHighVoltage, testedThroughDrive, notTested, insulationTooLow, insulationWeak, openMotorInDust,
	motorLeadThin, motorLeadDrops, waitNotKnown, labelTooShort,
}

// motorFormulas are the relations of the motor side, in the order of the sheet.
var motorFormulas = []*explain.Formula{
	voltageRatio, voltageMeaning, driveOutputVoltage, baseFrequency, powerLeft,
	leadGroups, windingFromGroups, leadConnection,
	motorFullLoadCurrent, singlePhaseMotorCurrent, typicalMotorCurrent, serviceFactorCurrent,
	motorPoles, synchronousSpeed, slip, impliedEfficiencyFactor, shaftPower, windingLoss, lockedRotorCurrent, lockedRotorLeast, lockedRotorLimit,
	temperatureDerating, altitudeDerating, carrierDerating, driveOutput,
	inputEstimate, deratedInput, inputLeast, inputAtLoad,
	overloadMost, overloadIfStart, overloadAtPlate,
	selfCooledTorque, dutyTorque, torqueNeeded, slowestCool, topSpeed,
	motorLeadAmpacity, motorLeadConductor, motorLeadDrop, criticalLength, reflectedPeak, windingWithstand,
	stepUpTransformer, transformerPrimary, transformerPrimaryDevice, converterAmpacity, converterFixedAmpacity, staticConverterCurrent, motorConductorAmpacity,
	linkVoltage, capacitorEnergy, dischargeTime,
}
