using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>Expected chances of records by models that have not seen them.</summary>
public static class CrossValidation
{
    public const string Source = "Stone M. J R Stat Soc B 1974;36:111-147 (citation from memory)";

    /// <summary>
    /// Records are dealt into folds at random, those that met and those that did not apart, so that each fold has its share of both; each
    /// fold's chances come from a model fitted to the others.
    /// </summary>
    /// <param name="met">The outcomes.</param>
    /// <param name="seed">Decides the folds.</param>
    /// <param name="folds">2 or more.</param>
    /// <param name="fit">Fits to some records, by index, and answers with the chance of any record.</param>
    public static ImmutableArray<double> Expected(IReadOnlyList<bool> met, ulong seed, int folds, Func<int[], Func<int, double>> fit)
    {
        ArgumentNullException.ThrowIfNull(met);
        ArgumentNullException.ThrowIfNull(fit);
        var fold = Deal(met, folds, SplitMix64.Uniform(seed));
        var expected = new double[met.Count];
        for (var left = 0; left < folds; left++)
        {
            var chance = fit([.. Enumerable.Range(0, met.Count).Where(i => fold[i] != left)]);
            for (var i = 0; i < met.Count; i++)
                if (fold[i] == left)
                    expected[i] = Math.Clamp(chance(i), 1e-12, 1 - 1e-12);
        }

        return [.. expected];
    }

    /// <summary>The same of the case mix's models, with the patterns of the whole.</summary>
    internal static ImmutableArray<double> Expected(
        IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, ulong seed, int folds, ImmutableArray<string> patterns) =>
        Expected(met, seed, folds, others =>
        {
            var models = PatternModels.Fit([.. others.Select(i => rows[i])], [.. others.Select(i => met[i])], patterns);
            return record => models.Expected(rows[record]);
        });

    internal static int[] Deal(IReadOnlyList<bool> met, int folds, Func<double> uniform)
    {
        var fold = new int[met.Count];
        var next = 0;
        foreach (var outcome in new[] { true, false })
        {
            int[] order = [.. Enumerable.Range(0, met.Count).Where(i => met[i] == outcome)];
            for (var i = order.Length - 1; i > 0; i--)
            {
                var at = (int)(uniform() * (i + 1));
                (order[i], order[at]) = (order[at], order[i]);
            }

            foreach (var record in order)
                fold[record] = next++ % folds;
        }

        return fold;
    }
}
