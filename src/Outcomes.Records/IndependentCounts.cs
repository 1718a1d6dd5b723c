using System.Collections.Immutable;

namespace Outcomes.Records;

/// <summary>How many procedures somebody else counted in a month.</summary>
/// <param name="Month">The month.</param>
/// <param name="Site">The site's code; empty where the file has no such column.</param>
/// <param name="Number">Procedures counted.</param>
/// <param name="Source">What was counted, such as tubes issued.</param>
/// <param name="Line">Physical line, 1-based.</param>
public sealed record MonthlyCount(Month Month, string Site, long Number, string Source, int Line);

/// <summary>A file of independent counts as it was read; a bad row is not counted and is a finding.</summary>
public sealed record IndependentCounts(
    string File, string Sha256, bool HasSites, ImmutableArray<MonthlyCount> Counts, ImmutableArray<Finding> Findings);
