namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>A record whose values do not fit one another, or do not fit the other records.</summary>
/// <param name="Record">Its place among the records.</param>
/// <param name="Score">How far out the first column is: its distance over the limit of that column, above 1.</param>
/// <param name="Column">The column that fits least; a place among the columns.</param>
/// <param name="Other">The column that disagrees most with it; a place among the columns.</param>
/// <param name="ByItself">True when the other columns say next to nothing about the first: then it is far from the department's
/// usual values.</param>
public readonly record struct UnusualRecord(int Record, double Score, int Column, int Other, bool ByItself);
