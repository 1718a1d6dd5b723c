namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>Settings of <see cref="UnusualRecordSearch"/>; the study in docs/statistics/unusual-records.md chose the defaults.</summary>
public sealed record UnusualRecordOptions
{
    /// <summary>With fewer records nothing is judged.</summary>
    public int LeastRecords { get; init; } = 450;

    /// <summary>A column that is known in fewer records is not used.</summary>
    public int LeastKnown { get; init; } = 100;

    /// <summary>
    /// With more records nothing is judged: they come from many departments, and what is usual in one need not be in another.
    /// </summary>
    public int MostRecords { get; init; } = 50_000;

    /// <summary>The share of records without an error that may be found, as far as the tails of the records tell.</summary>
    public double FalseAlarms { get; init; } = 0.004;

    /// <summary>Share of the directions that randomised PCA keeps, above 0 and at most 1.</summary>
    public double Rank { get; init; } = 1;

    /// <summary>The quantile from which a tail of residuals is measured.</summary>
    internal double Inner { get; init; } = 0.92;

    /// <summary>The quantile to which it is measured, and from which it is carried on.</summary>
    internal double Outer { get; init; } = 0.985;

    /// <summary>Sets every draw.</summary>
    public int Seed { get; init; } = 20_261_130;
}
