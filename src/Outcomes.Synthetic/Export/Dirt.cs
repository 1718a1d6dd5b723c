namespace Outcomes.Synthetic.Export;

/// <summary>What typing does to a row: the planted wrong cells.</summary>
internal static class Dirt
{
    /// <summary>The heading of the cell that a plant spoils; null when it spoils none.</summary>
    public static string? Heading(Plant plant) => plant switch
    {
        Plant.SaturationTenfold or Plant.SaturationRose or Plant.LateCorrection => "SpO2 lowest",
        Plant.SaturationWithPercent => "SpO2 before",
        Plant.TextInNumber => "Systolic lowest",
        Plant.UnknownCode => "Where",
        Plant.DecimalComma => "Weight (kg)",
        Plant.ImpossibleDate or Plant.FutureDate => "Date of procedure",
        Plant.PlanContradiction => "Ended at",
        Plant.Co2Contradiction => "CO2 sustained",
        Plant.AttemptsDisagree => "Intubation attempts",
        _ => null,
    };

    /// <summary>True when the row cannot be counted.</summary>
    public static bool Quarantines(Plant? plant) => plant is Plant.ImpossibleDate or Plant.FutureDate;

    /// <summary>The row as it was typed; the same row when nothing is planted in a cell.</summary>
    public static string[] Spoil(string[] row, Procedure procedure)
    {
        if (procedure.Planted is not { } plant || Heading(plant) is not { } heading)
            return row;
        var spoilt = (string[])row.Clone();
        var seen = procedure.Observations;
        spoilt[ProcedureColumns.IndexOf(heading)] = plant switch
        {
            Plant.SaturationTenfold => "980",
            Plant.SaturationRose => Cells.Number(seen.SpO2Pre < 100 ? seen.SpO2Pre + 1 : 100),
            Plant.LateCorrection => Cells.Number(seen.SpO2Pre),
            Plant.SaturationWithPercent => Cells.Number(seen.SpO2Pre) + "%",
            Plant.TextInNumber => "low",
            Plant.UnknownCode => "Helipad",
            Plant.DecimalComma => Cells.Number(procedure.Patient.WeightKg) + ",5",
            Plant.ImpossibleDate => "30/02/" + Cells.Number(procedure.Date.Year),
            Plant.FutureDate => Cells.Date(procedure.Date.AddYears(60)),
            Plant.PlanContradiction => LocalCodes.Plan[procedure.Course.PlanC == "not_used" ? "C" : "D"],
            Plant.Co2Contradiction => LocalCodes.YesNo(true),
            Plant.AttemptsDisagree => Cells.Number(procedure.Course.AttemptsTotal + 2),
            _ => throw new InvalidOperationException($"No wrong cell is known for {plant}."),
        };
        if (plant == Plant.SaturationRose && seen.SpO2Pre == 100)
            spoilt[ProcedureColumns.IndexOf("SpO2 before")] = "99";
        if (plant == Plant.Co2Contradiction)
            spoilt[ProcedureColumns.IndexOf("CO2 check")] = LocalCodes.Co2["none"];
        return spoilt;
    }
}
