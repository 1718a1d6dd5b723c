using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>How many cases of the months before had the same highest flag.</summary>
/// <param name="Title">The flag.</param>
/// <param name="Since">The first month of the period.</param>
/// <param name="Year">Cases in the 12 months before, or in as many as there are.</param>
/// <param name="Whole">Cases since the first month.</param>
/// <param name="Longer">True where the period is longer than 12 months.</param>
public sealed record EarlierCases(string Title, Month Since, long Year, long Whole, bool Longer);
