namespace Outcomes.CaseMix;

/// <summary>A limit for the risk-adjusted CUSUM that holds the error of the model behind the expected chances.</summary>
internal static class RefittedLimit
{
    /// <summary>
    /// As <see cref="RiskAdjustedCusum.Limit"/>, but in each run the baseline's outcomes are drawn anew, the model is fitted to them, and
    /// the run is weighed by the chances of that fit, while its outcomes come from the chances of the model given.
    /// </summary>
    /// <param name="rows">The baseline's covariates.</param>
    /// <param name="fit">The model fitted to them, taken as the truth of the simulation (a parametric bootstrap: Efron B, Tibshirani RJ. An
    /// Introduction to the Bootstrap, 1993, section 6.5).</param>
    /// <param name="oddsRatio">The change looked for.</param>
    /// <param name="falseAlarm">Chance of one false alarm or more within a run.</param>
    /// <param name="records">Length of a run.</param>
    /// <param name="uniform">Uniform numbers from 0 up to 1.</param>
    /// <param name="runs">Simulated runs.</param>
    public static double Simulate(
        IReadOnlyList<double[]> rows, LogisticFit fit, double oddsRatio, double falseAlarm, int records, Func<double> uniform, int runs)
    {
        double[] truth = [.. rows.Select(row => fit.Expected(row))];
        var highest = new double[runs];
        for (var run = 0; run < runs; run++)
        {
            var refitted = Refitted(rows, [.. truth.Select(chance => uniform() < chance)], fit.Penalised);
            highest[run] = RiskAdjustedCusum.Highest(
                truth, [.. refitted.Select(chance => RiskAdjustedCusum.Weight(chance, true, oddsRatio))],
                [.. refitted.Select(chance => RiskAdjustedCusum.Weight(chance, false, oddsRatio))], records, uniform);
        }

        return RiskAdjustedCusum.Quantile(highest, falseAlarm);
    }

    private static double[] Refitted(IReadOnlyList<double[]> rows, bool[] met, bool penalised)
    {
        var problem = new LogisticProblem(rows, met);
        // Drawn outcomes may all be alike, or separated: the penalty gives chances that are neither 0 nor 1.
        var maximum = Maximum.Find(problem, penalised, new double[problem.Columns], iterations: 30, tolerance: 1e-6);
        if (!maximum.Converged && !penalised)
            maximum = Maximum.Find(problem, true, new double[problem.Columns], iterations: 200, tolerance: 1e-6);
        return [.. Enumerable.Range(0, rows.Count).Select(i => Logit.Chance(problem.Linear(i, maximum.Beta)))];
    }
}
