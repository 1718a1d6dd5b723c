namespace Outcomes.CaseMix;

/// <summary>A limit for the risk-adjusted CUSUM that holds the error of the model behind the expected chances.</summary>
internal static class RefittedLimit
{
    /// <summary>
    /// As <see cref="RiskAdjustedCusum.Limit"/>, but in each run the baseline's outcomes are drawn anew, the model is fitted to them, and
    /// the run is weighed by the chances of that fit, while its outcomes come from the chances of the model given.
    /// </summary>
    /// <param name="truth">The chances of the baseline's records by the models given, taken as the truth of the simulation (a parametric
    /// bootstrap: Efron B, Tibshirani RJ. An Introduction to the Bootstrap, 1993, section 6.5).</param>
    /// <param name="models">The models fitted to them, with their penalty.</param>
    /// <param name="oddsRatio">The change looked for.</param>
    /// <param name="falseAlarm">Chance of one false alarm or more within a run.</param>
    /// <param name="records">Length of a run.</param>
    /// <param name="uniform">Uniform numbers from 0 up to 1.</param>
    /// <param name="runs">Simulated runs.</param>
    public static double Simulate(
        IReadOnlyList<double> truth, PatternModels models, double oddsRatio, double falseAlarm, int records, Func<double> uniform, int runs)
    {
        var highest = new double[runs];
        for (var run = 0; run < runs; run++)
        {
            var refitted = models.Refitted([.. truth.Select(chance => uniform() < chance)]);
            highest[run] = RiskAdjustedCusum.Highest(
                truth, [.. refitted.Select(chance => RiskAdjustedCusum.Weight(chance, true, oddsRatio))],
                [.. refitted.Select(chance => RiskAdjustedCusum.Weight(chance, false, oddsRatio))], records, uniform);
        }

        return RiskAdjustedCusum.Quantile(highest, falseAlarm);
    }
}
