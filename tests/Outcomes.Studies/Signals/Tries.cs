using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Studies.Signals;

/// <summary>
/// Attempts to beat the shipped scheme at one budget. Each variant gets, in each cell and at each rate, what must be added to its limit to
/// keep 1.74 % a measure at ρ 0 and at ρ .02, found on departments of its own; then other departments say how often it misleads and how
/// soon it notices. All variants meet the same departments.
/// </summary>
internal static class Tries
{
    public static ImmutableArray<(double Volume, int History)> Cells { get; } = [(10, 12), (10, 24), (25, 12), (25, 24), (50, 12)];

    public static ImmutableArray<(string Name, double Rate, double Changed, int From)> Changes { get; } =
    [
        ("85 > 70 % in month 1", 0.15, 0.30, 0), ("85 > 70 % in month 13", 0.15, 0.30, 12), ("85 > 75 % in month 1", 0.15, 0.25, 0),
        ("85 > 75 % in month 13", 0.15, 0.25, 12), ("8 > 16 % in month 13", 0.08, 0.16, 12), ("80 > 90 % in month 13", 0.20, 0.10, 12),
    ];

    /// <summary>The losers of the first search that did better in large units.</summary>
    private static readonly ImmutableArray<(string Name, ChangeOddsOptions Options)> Constants =
    [
        ("shipped", new()),
        ("variation 0 or much", new() { Variations = [1e-5, 0.03, 0.08], VariationWeights = [0.4, 0.35, 0.25] }),
        ("three quarters for the worse", new() { WorseWeight = 0.75 }),
        ("both", new() { Variations = [1e-5, 0.03, 0.08], VariationWeights = [0.4, 0.35, 0.25], WorseWeight = 0.75 }),
    ];

    private static readonly Condition[] Months = [Condition.Plain, Condition.All[2]];

    /// <summary>A variant: the traces it gives, and the limit of a department before what is added to it.</summary>
    private sealed record Variant(string Name, Func<Traces[], Traces> Of, Func<Traces, int, double, double> Limit);

    public static IEnumerable<StudyRow> Rows(double volume, int history, int departments, ulong seed)
    {
        var own = new[] { 0.15, 0.08, 0.20 }.ToDictionary(rate => rate, rate =>
            new OwnHistory(volume, history, rate, Seeds.Of(seed, volume, history, 710, rate),
                Math.Min(OwnHistory.Replicates, 2 * departments)));
        double Form(Traces traces, int index, double rate) =>
            ChangeLimit.OfHistory(traces.Bad[index], traces.Eligible[index], history, new());
        double Own(Traces traces, int index, double rate) => own[rate].Limit(traces.Bad[index], traces.Eligible[index]);
        Variant[] variants = Variants(Form, Own);
        Traces[] Draw(Unit unit, Condition condition, ulong one)
        {
            var (end, any) = CaseTraces.InOrder(unit, condition, departments, one, new());
            return [.. Constants.Select(constants => Traces.Of(unit, condition, departments, one, constants.Options)), end, any];
        }

        var extra = variants.ToDictionary(variant => variant.Name, _ => new Dictionary<double, double>());
        foreach (var rate in own.Keys)
        {
            Traces[][] stable = [.. Months.Select(condition => Draw(new(volume, history, rate), condition,
                Seeds.Of(seed, volume, history, 700, rate, condition.Correlation)))];
            foreach (var variant in variants)
                extra[variant.Name][rate] =
                    stable.Max(traces => Spending(variant.Of(traces), (of, index) => variant.Limit(of, index, rate)));
        }
        foreach (var condition in Months)
        {
            var traces = Draw(new(volume, history, 0.15), condition, Seeds.Of(seed, volume, history, 701, condition.Correlation));
            foreach (var variant in variants)
            {
                var of = variant.Of(traces);
                yield return Row(variant.Name, $"false alarms, {condition.Name}",
                    FalseAlarms.Share(of, index => variant.Limit(of, index, 0.15) + extra[variant.Name][0.15]), departments);
                // As it comes, nothing added: what a limit that needs no search would spend.
                if (variant.Name.StartsWith("shipped,", StringComparison.Ordinal))
                    yield return Row($"{variant.Name}, as it comes", $"false alarms, {condition.Name}",
                        FalseAlarms.Share(of, index => variant.Limit(of, index, 0.15)), departments);
                else if (variant.Name.StartsWith("case by case", StringComparison.Ordinal))
                    yield return Row($"{variant.Name}, limit of the formula, as it comes", $"false alarms, {condition.Name}",
                        FalseAlarms.Share(of, index => Form(of, index, 0.15)), departments);
            }
        }
        foreach (var (name, rate, changed, from) in Changes)
        {
            var traces = Draw(new(volume, history, rate, changed, from), Condition.Plain,
                Seeds.Of(seed, volume, history, 702, changed, from));
            foreach (var variant in variants)
            {
                var of = variant.Of(traces);
                var delays = Detection.Delays(of, index => variant.Limit(of, index, rate) + extra[variant.Name][rate], from);
                yield return Row(variant.Name, name, Detection.Within(delays, 12), delays.Length);
            }
        }

        // No comma may stand in a cell of the file.
        StudyRow Row(string variant, string figure, double share, int of) => new(
            "tries", volume, history, variant.Replace(",", ":", StringComparison.Ordinal),
            figure.Replace(",", ":", StringComparison.Ordinal), share, Math.Sqrt(share * (1 - share) / of));
    }

    private static Variant[] Variants(Func<Traces, int, double, double> formula, Func<Traces, int, double, double> own) =>
    [
        .. Constants.Select((constants, i) => new Variant(constants.Name, traces => traces[i], (_, _, _) => 0)),
        new("case by case, looked at monthly", traces => traces[^2], (_, _, _) => 0),
        new("case by case, looked at after each", traces => traces[^1], (_, _, _) => 0),
        new("shipped, limit of the formula", traces => traces[0], formula),
        new("shipped, limit simulated from own history", traces => traces[0], own),
    ];

    /// <summary>
    /// The constants where months vary otherwise than the limit was found for: one measure at a bad rate of 15 %, false
    /// alarms in 36 reports.
    /// </summary>
    public static IEnumerable<StudyRow> Beyond(double volume, int history, int departments, ulong seed)
    {
        Unit unit = new(volume, history, 0.15);
        foreach (var (name, options) in Constants)
        {
            var limit = Months.Max(condition =>
                Spending(Traces.Of(unit, condition, departments, Seeds.Of(seed, volume, history, 700, 0.15, condition.Correlation),
                    options), (_, _) => 0));
            foreach (var i in (int[])[1, 3, 4])
            {
                var condition = Condition.All[i];
                var share = FalseAlarms.Share(Traces.Of(unit, condition, departments, Seeds.Of(seed, volume, history, 703, i), options),
                    _ => limit);
                yield return new("beyond", volume, history, name, $"false alarms: {condition.Name}", share,
                    Math.Sqrt(share * (1 - share) / departments));
            }
        }
    }

    /// <summary>What must be added to the limits so that the share of one measure's budget passes them.</summary>
    public static double Spending(Traces traces, Func<Traces, int, double> limit)
    {
        double[] most = [.. Enumerable.Range(0, traces.Count).Select(index => traces.Most(index) - limit(traces, index)).Order()];
        return most[(int)((1 - ChangeLimit.Fitted) * most.Length)];
    }
}
