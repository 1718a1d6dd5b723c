using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>Constants of the change odds with the paces that the study looks at.</summary>
/// <param name="Options">Constants.</param>
/// <param name="Paces">Pace, what is added to its limit, and what the tables call it.</param>
internal sealed record Scheme(ChangeOddsOptions Options, ImmutableArray<(Pace Pace, double Extra, string Name)> Paces)
{
    public static Scheme Shipped { get; } = new(new(),
        [(Pace.Default, 0, "default"), (Pace.Strict, 0, "strict"), (Pace.Faster, 0, "faster"), (Pace.Proof, 0, "proof")]);

    /// <summary>
    /// Where this work started: three odds ratios, a smaller head start, a limit that was fitted to months that vary less.
    /// </summary>
    public static Scheme First { get; } = new(ChangeOddsOptions.FirstStudied,
        [(Pace.Default, 0, "first"), (Pace.Default, 0.5, "first strict")]);

    /// <summary>The limit of a department at a pace; infinite when its history holds too few cases to judge.</summary>
    public Func<int, double> Limit(Pace pace, double extra, Traces traces, int history) => index =>
        traces.Eligible[index] < Options.LeastHistoryCases
            ? double.PositiveInfinity
            : ChangeLimit.OfHistory(traces.Bad[index], traces.Eligible[index], history, Options with { Pace = pace }) + extra;
}
