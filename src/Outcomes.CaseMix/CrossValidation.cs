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
    /// <param name="rows">Covariates, as for <see cref="Logistic.Fit"/>.</param>
    /// <param name="met">The outcomes.</param>
    /// <param name="seed">Decides the folds.</param>
    /// <param name="folds">2 or more.</param>
    /// <param name="penalised">Firth's likelihood in every fold.</param>
    /// <remarks>
    /// A column that has become constant, or a sum of others, in the records that are left is left out of that fold's fit. Where their
    /// outcomes are separated, the fold is fitted with Firth's penalty.
    /// </remarks>
    public static ImmutableArray<double> Expected(
        IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, ulong seed, int folds = 5, bool penalised = false)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(met);
        var fold = Deal(met, folds, SplitMix64.Uniform(seed));
        var expected = new double[rows.Count];
        for (var left = 0; left < folds; left++)
        {
            int[] others = [.. Enumerable.Range(0, rows.Count).Where(i => fold[i] != left)];
            var coefficients = FitFold([.. others.Select(i => rows[i])], [.. others.Select(i => met[i])], penalised);
            for (var i = 0; i < rows.Count; i++)
                if (fold[i] == left)
                    expected[i] = Math.Clamp(
                        Logit.Chance(coefficients[0] + rows[i].Select((value, j) => value * coefficients[j + 1]).Sum()), 1e-12, 1 - 1e-12);
        }

        return [.. expected];
    }

    private static double[] FitFold(double[][] rows, bool[] met, bool penalised)
    {
        int[] kept = [.. Enumerable.Range(0, rows[0].Length).Except(Logistic.Collinear(rows))];
        double[][] columns = [.. rows.Select(row => kept.Select(j => row[j]).ToArray())];
        var fit = Logistic.Fit(columns, met, penalised);
        var all = new double[rows[0].Length + 1];
        all[0] = fit.Coefficients[0].Value;
        for (var j = 0; j < kept.Length; j++)
            all[kept[j] + 1] = fit.Coefficients[j + 1].Value;
        return all;
    }

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
