namespace Outcomes.Analysis;

/// <summary>How many of the missing records it would take to turn a conclusion.</summary>
/// <param name="Records">The least number of missing records that, all of them against the conclusion, would take it away.</param>
/// <param name="Missing">Missing records of the months that the conclusion rests on.</param>
/// <param name="AreFailures">True where they would have to be unwelcome events; false where they would have to be free of them.</param>
/// <remarks>
/// A tipping-point analysis for missing outcomes (Yan X, Lee S, Li N. J Biopharm Stat 2009;19:1085-98; from memory), in records.
/// </remarks>
public sealed record TippingPoint(long Records, long Missing, bool AreFailures);
