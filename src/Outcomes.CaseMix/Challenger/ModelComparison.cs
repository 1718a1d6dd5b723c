using System.Collections.Immutable;

namespace Outcomes.CaseMix.Challenger;

/// <summary>One model's cross-validated chances, judged.</summary>
/// <param name="Model">Which model.</param>
/// <param name="Discrimination">The c statistic.</param>
/// <param name="Calibration">Intercept, slope and Brier score.</param>
public sealed record ModelJudgement(string Model, Area Discrimination, CalibrationResult Calibration);

/// <summary>The case-mix model beside its challenger, on the same records and folds.</summary>
/// <param name="Records">Records of the baseline that know every field.</param>
/// <param name="Events">Events among them.</param>
/// <param name="Logistic">The model that the report uses.</param>
/// <param name="Additive">The challenger.</param>
/// <param name="Difference">The c statistic of the challenger less that of the model.</param>
public sealed record ModelComparison(int Records, int Events, ModelJudgement Logistic, ModelJudgement Additive, double Difference)
{
    public const string LogisticName = "logistic";

    public const string AdditiveName = "additive";

    /// <summary>
    /// Compares the model with a generalised additive one on its own columns, among the records that know all of these. Both give each
    /// record a chance by a fit that has not seen it, in the same folds: the difference between them is that of the models,
    /// not of the deal.
    /// </summary>
    /// <param name="model">The fitted model.</param>
    /// <param name="baseline">The records it was fitted to.</param>
    /// <param name="options">The options it was fitted with: seed and folds.</param>
    /// <exception cref="ArgumentException">The model has no column.</exception>
    public static ModelComparison Of(CaseMixModel model, CaseMixData baseline, CaseMixOptions options)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(baseline);
        ArgumentNullException.ThrowIfNull(options);
        var rows = model.Rows(baseline);
        int[] known = [.. Enumerable.Range(0, rows.Length).Where(i => !rows[i].Any(double.IsNaN))];
        return Of([.. known.Select(i => rows[i])], [.. known.Select(i => baseline.Events[i])], options.Seed, options.Folds);
    }

    /// <summary>The same from rows of columns, all known.</summary>
    internal static ModelComparison Of(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, ulong seed, int folds)
    {
        if (rows.Count == 0 || rows[0].Length == 0)
            throw new ArgumentException("a comparison needs at least one column", nameof(rows));
        var logistic = CrossValidation.Expected(rows, met, seed, folds, PatternModels.Fit(rows, met).Patterns);
        var additive = ExpectAdditive(rows, met, seed, folds);
        var (c, d) = (Discrimination.Auc(logistic, met), Discrimination.Auc(additive, met));
        return new(rows.Count, met.Count(value => value), new(LogisticName, c, Calibration.Assess(logistic, met)),
            new(AdditiveName, d, Calibration.Assess(additive, met)), d.Value - c.Value);
    }

    private static ImmutableArray<double> ExpectAdditive(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, ulong seed, int folds)
    {
        var fold = CrossValidation.Deal(met, folds, Outcomes.Statistics.SplitMix64.Uniform(seed));
        var expected = new double[rows.Count];
        for (var left = 0; left < folds; left++)
        {
            int[] others = [.. Enumerable.Range(0, rows.Count).Where(i => fold[i] != left)];
            int[] judged = [.. Enumerable.Range(0, rows.Count).Where(i => fold[i] == left)];
            var chances = AdditiveModel.Expected([.. others.Select(i => rows[i])], [.. others.Select(i => met[i])],
                [.. judged.Select(i => rows[i])], unchecked((int)seed));
            for (var i = 0; i < judged.Length; i++)
                expected[judged[i]] = chances[i];
        }

        return [.. expected];
    }
}
