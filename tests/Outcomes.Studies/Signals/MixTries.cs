using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// The scheme without and with the case mix inside, on departments whose cases fall into four risk strata; limits as in
/// <see cref="Tries"/>.
/// </summary>
internal static class MixTries
{
    /// <summary>
    /// Share of the strata's true distances that a variant knows; 0 is the shipped scheme; null: estimated from each
    /// department's own history.
    /// </summary>
    private static readonly ImmutableArray<(string Name, double? Known)> Variants =
        [("shipped", 0), ("case mix inside", 1), ("case mix inside: half known", 0.5), ("case mix inside: estimated from the history", null)
        ];

    private static readonly (string Name, double Correlation, ImmutableArray<double> Later)[] Stable =
    [
        ("false alarms: alike", 0, Mix.Equal), ("false alarms: ρ .02", 0.02, Mix.Equal), ("false alarms: mix 15 > 19 %", 0, Mix.Harder),
        ("false alarms: mix 15 > 21 %", 0, Mix.MuchHarder), ("false alarms: mix 15 > 11 %", 0, Mix.Easier),
    ];

    private static readonly (string Name, double Changed, ImmutableArray<double> Later)[] Changed =
    [
        ("85 > 70 % in month 13", 0.30, Mix.Equal), ("85 > 75 % in month 13", 0.25, Mix.Equal),
        ("85 > 75 % while mix gets easier", 0.25, Mix.Easier),
    ];

    public static IEnumerable<StudyRow> Rows(double volume, int history, int departments, ulong seed)
    {
        double[] known = [.. Variants.Skip(1).Select(variant => variant.Known).OfType<double>()];
        Traces[] Draw(double? changed, double correlation, ImmutableArray<double> later, double key) => CaseTraces.WithMix(
            new(volume, history, 0.15, changed, changed is null ? 0 : 12), correlation, later, departments,
            Seeds.Of(seed, volume, history, key, correlation), new(), known);

        double[] limits = [.. Enumerable.Repeat(double.NegativeInfinity, Variants.Length)];
        foreach (var correlation in (double[])[0, 0.02])
        {
            var traces = Draw(null, correlation, Mix.Equal, 720);
            for (var i = 0; i < limits.Length; i++)
                limits[i] = Math.Max(limits[i], Tries.Spending(traces[i], (_, _) => 0));
        }
        for (var scenario = 0; scenario < Stable.Length; scenario++)
        {
            var (name, correlation, later) = Stable[scenario];
            var traces = Draw(null, correlation, later, 730 + scenario);
            for (var i = 0; i < limits.Length; i++)
                yield return Row(i, name, FalseAlarms.Share(traces[i], _ => limits[i]), departments);
            // What the shipped formula, made for a scheme without it, would spend.
            for (var i = 0; i < limits.Length; i++)
            {
                var share = FalseAlarms.Share(traces[i],
                    index => ChangeLimit.OfHistory(traces[i].Bad[index], traces[i].Eligible[index], history, new()));
                yield return Row(i, name, share, departments) with { Scheme = $"{Variants[i].Name}: limit of the formula: as it comes" };
            }
        }
        for (var scenario = 0; scenario < Changed.Length; scenario++)
        {
            var (name, changed, later) = Changed[scenario];
            var traces = Draw(changed, 0, later, 740 + scenario);
            for (var i = 0; i < limits.Length; i++)
            {
                var delays = Detection.Delays(traces[i], _ => limits[i], 12);
                yield return Row(i, name, Detection.Within(delays, 12), delays.Length);
            }
        }

        StudyRow Row(int variant, string figure, double share, int of) =>
            new("mix", volume, history, Variants[variant].Name, figure, share, Math.Sqrt(share * (1 - share) / of));
    }
}
