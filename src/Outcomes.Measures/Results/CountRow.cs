using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Measures;

/// <summary>The count of one measure in one month at one level of a stratum (<c>all</c>, <c>all</c> where not split).</summary>
public sealed record CountRow(string Measure, Month Month, string Stratum, string Level, Count Count)
{
    public const string All = "all";

    /// <summary>The level of records whose stratum is missing.</summary>
    public const string MissingLevel = "(missing)";
}
