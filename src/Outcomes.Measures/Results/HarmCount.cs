using Outcomes.Records;

namespace Outcomes.Measures;

/// <summary>Records of a month with an event of harm.</summary>
/// <param name="Harm">The event, as its flags name it.</param>
/// <param name="Month">The month.</param>
/// <param name="Events">Records in which it happened.</param>
/// <param name="Unknown">Records that do not say whether it did.</param>
/// <param name="Records">All records of the month.</param>
public sealed record HarmCount(string Harm, Month Month, long Events, long Unknown, long Records);
