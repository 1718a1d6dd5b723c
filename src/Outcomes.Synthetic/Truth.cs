using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace Outcomes.Synthetic;

/// <summary>Met out of eligible, over the records that can be counted.</summary>
public readonly record struct Tally(int Met, int Eligible)
{
    public Tally With(bool met) => new(Met + (met ? 1 : 0), Eligible + 1);
}

/// <summary>A month's cases that can be counted, and the first pass among the eligible.</summary>
public sealed record MonthTruth(DateOnly Month, int Cases, Tally FirstPass);

/// <summary>The fate that the ledger must give the rows of one file.</summary>
public sealed record RowTruth(int RowsIn, int Accepted, int Superseded, int Quarantined);

/// <summary>
/// What is true of the traces: their rows and records, those with too long a gap to be judged, and the seconds below 90 % of the others.
/// </summary>
public sealed record TraceTruth(
    int Rows, int Records, int LowCoverage, [property: JsonPropertyName("seconds_below_90")] long SecondsBelow90);

/// <summary>
/// What is true of an invented department, so that a report about it can be checked. First pass and video first are never missing
/// in the files, so a report must show exactly these counts. Saturations are missing in places: a report's counts are lower.
/// </summary>
public sealed record Truth(SynthesisOptions Options)
{
    /// <summary>Emergency, 16 years or older, first airway an intubation attempt; before the change of practice.</summary>
    public Tally FirstPassBefore { get; init; }

    public Tally FirstPassAfter { get; init; }

    /// <summary>Emergency, 16 years or older: videolaryngoscope at the first attempt.</summary>
    public Tally VideoFirstBefore { get; init; }

    public Tally VideoFirstAfter { get; init; }

    /// <summary>
    /// Emergency, 16 years or older, no arrest before, saturation 90 % or more at induction: fell below 90 %. As it truly was,
    /// cells left out or mistyped included.
    /// </summary>
    public Tally SpO2Below90Winter { get; init; }

    public Tally SpO2Below90OtherMonths { get; init; }

    public ImmutableArray<MonthTruth> Months { get; init; } = [];

    public required RowTruth Procedures { get; init; }

    public required RowTruth Attempts { get; init; }

    public TraceTruth Traces { get; init; } = new(0, 0, 0, 0);

    /// <summary>Cells left out, by heading of the export of procedures, each record counted once.</summary>
    public ImmutableArray<(string Heading, int Cells)> MissingCells { get; init; } = [];

    /// <summary>The keys of the records in which something was planted.</summary>
    public ImmutableSortedDictionary<Plant, ImmutableArray<string>> Planted { get; init; } =
        ImmutableSortedDictionary<Plant, ImmutableArray<string>>.Empty;
}
