using System.Collections.Immutable;
using Outcomes.CaseMix;
using Outcomes.Statistics;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.CaseMix;

/// <summary>A field that comes to be missing in the second year after the history, with the same care or doubled odds.</summary>
/// <param name="Later">Share of cases without it then; 8 % before, none of whom ever has it.</param>
/// <param name="Odds">What the odds are multiplied by then.</param>
/// <param name="LowFirst">Whether low saturations go missing first, and not at random.</param>
internal sealed record MissingField(double Later, double Odds, bool LowFirst)
{
    public const string Part = "missing field", Level = "a level of its own", Without = "model without the field",
        Rule = "counts once it moved", Counts = "counts";

    private const int Volume = 14, History = 12;

    // Bad of 100: recorded low 35 (30 % of the recorded), recorded normal 14.5, never recorded 40 (8 %).
    private const double Never = 0.08, Low = 0.3;

    public static readonly ImmutableArray<MissingField> Kinds =
    [
        new(0.08, 1, false), new(0.30, 1, false), new(0.60, 1, false), new(0.08, 2, false), new(0.30, 2, false), new(0.60, 2, false),
        new(0.30, 1, true), new(0.60, 1, true),
    ];

    public string Cell => FormattableString.Invariant(
        $"8 to {100 * Later:0} %{(LowFirst ? " low first" : " at random")}; {(Odds == 1 ? "same care" : "doubled odds")}");

    public static IEnumerable<CaseMixRow> Rows(MissingField kind, int departments, ulong seed)
    {
        var cell = Seeds.Of(seed, 1, kind.Later, kind.Odds, kind.LowFirst ? 1 : 0);
        var counted = new Dictionary<(string Test, string Rule, string Figure), (int Count, int Of)>();
        for (var index = 0; index < departments; index++)
        {
            var months = kind.Draw(CaseMixStudy.Uniform(cell, index));
            var field = months.Data.Given[0];
            var moved = months.Moved(field);
            Count("-", Rule, "moved falsely in the first year", moved < MixedMonths.Year, true);
            Count("-", Rule, "moved within 12 months", moved < 2 * MixedMonths.Year, !(moved < MixedMonths.Year));
            var chances = new Dictionary<string, double[]?>
            {
                [Level] = months.Chances([Covariate.Code("saturation", field.Levels.Select(level => level ?? "missing"))]),
                [Without] = months.Chances(),
                [Counts] = null,
            };
            foreach (var (name, options) in CaseMixStudy.Tests)
            {
                var signals = chances.ToDictionary(pair => pair.Key, pair => months.Follow(options, pair.Value));
                signals[Rule] = Decide(signals[Without], signals[Counts], moved);
                foreach (var (rule, signal) in signals)
                {
                    var asked = !(signal?.Report < MixedMonths.Year);
                    Count(name, rule, "false better by 36", signal is { Worse: false }, asked);
                    Count(name, rule, "worse by 36", signal is { Worse: true }, asked);
                    Count(name, rule, "worse within 12", signal is { Worse: true, Report: < 2 * MixedMonths.Year }, asked);
                }
            }
        }

        return counted.Select(pair => new CaseMixRow(Part, kind.Cell, pair.Key.Test, pair.Key.Rule, pair.Key.Figure,
            pair.Value.Count, pair.Value.Of, cell));

        void Count(string test, string rule, string figure, bool yes, bool asked)
        {
            var (count, of) = counted.GetValueOrDefault((test, rule, figure));
            counted[(test, rule, figure)] = (count + (asked && yes ? 1 : 0), of + (asked ? 1 : 0));
        }
    }

    /// <summary>The model's signal until the field moved, that of the counts from then on: what is told first.</summary>
    private static (int Report, bool Worse)? Decide((int Report, bool Worse)? model, (int Report, bool Worse)? counts, int? moved)
    {
        if (moved is not { } from || model?.Report < from)
            return model;
        return counts is var (report, worse) ? (Math.Max(report, from), worse) : null;
    }

    private MixedMonths Draw(Func<double> uniform)
    {
        var cases = new PoissonDraw(Volume);
        List<int> month = [];
        List<bool> events = [];
        List<string?> saturation = [];
        var extra = (Later - Never) / (1 - Never);
        for (var at = 0; at < History + MixedMonths.Reports; at++)
        {
            var later = at >= History + MixedMonths.Year;
            for (var n = cases.Next(uniform()); n > 0; n--)
            {
                var never = uniform() < Never;
                var low = uniform() < Low;
                var risk = never ? 0.40 : low ? 0.35 : 0.145;
                var lost = !LowFirst ? extra : low ? Math.Min(1, extra / Low) : Math.Max(0, extra - Low) / (1 - Low);
                month.Add(at);
                events.Add(uniform() < (later ? Logit.Chance(Logit.LogOdds(risk) + Math.Log(Odds)) : risk));
                saturation.Add((uniform() < lost && later) || never ? null : low ? "low" : "normal");
            }
        }

        return new(History, [.. month], [.. events], [Covariate.Code("saturation", saturation)]);
    }
}
