using System.Collections.Immutable;

namespace Outcomes.Analysis;

/// <summary>How many records of a period have a monitor trace, and how much of it can be judged.</summary>
/// <param name="Records">Accepted records of the period.</param>
/// <param name="WithTrace">Those that have a trace.</param>
/// <param name="Signals">The signals that figures use.</param>
public sealed record TraceFigures(long Records, long WithTrace, ImmutableArray<TraceSignal> Signals);

/// <summary>What the traces of a period hold of one signal; the four counts add up to the records with a trace.</summary>
/// <param name="Title">The signal in words.</param>
/// <param name="Sufficient">Traces that cover enough of the window.</param>
/// <param name="LowCoverage">Traces that cover too little of it: durations are missing.</param>
/// <param name="TooSparse">Traces sampled too seldom.</param>
/// <param name="NoSamples">Traces without a sample of it in the window.</param>
/// <param name="MedianCoverage">Median share of the window that is known, 0 to 100, where it can be told.</param>
public sealed record TraceSignal(string Title, long Sufficient, long LowCoverage, long TooSparse, long NoSamples, double? MedianCoverage);
