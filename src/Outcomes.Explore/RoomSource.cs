using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Explore;

/// <summary>What a pipeline hands over to be explored: its records, read once, and how its report counts them.</summary>
public sealed record RoomSource
{
    /// <summary>The records that count. The room uses it one question at a time.</summary>
    public required Engine Engine { get; init; }

    /// <summary>The report's own plan.</summary>
    public required AnalysisPlan Plan { get; init; }

    /// <summary>Accepted records by month.</summary>
    public required IReadOnlyDictionary<Month, long> Records { get; init; }

    /// <summary>The pipeline file as it was named, for the command that a page shows.</summary>
    public required string Pipeline { get; init; }

    public required string Version { get; init; }

    /// <summary>Counts what the report counts.</summary>
    public required Func<RoomCounts> Count { get; init; }

    /// <summary>Writes a question, by its name and text, beside the pipeline; gives the file as it is shown.</summary>
    public required Func<string, string, string> Save { get; init; }
}

/// <summary>What the report is made from.</summary>
/// <param name="Counts">The counts of the department.</param>
/// <param name="Cases">The review cases of the report month.</param>
/// <param name="Findings">Everything that is wrong with the data.</param>
public sealed record RoomCounts(DepartmentCounts Counts, CasePack Cases, IReadOnlyList<Finding> Findings);
