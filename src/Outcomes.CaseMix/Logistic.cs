using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.CaseMix;

/// <summary>Logistic regression by maximum likelihood, and by Firth's penalised likelihood where that has no maximum.</summary>
public static class Logistic
{
    public const string Source =
        "McCullagh P, Nelder JA. Generalized Linear Models, 2nd ed. 1989, section 4.4 (iteratively reweighted least squares)";

    public const string FirthSource = "Firth D. Biometrika 1993;80:27-38; Heinze G, Schemper M. Stat Med 2002;21:2409-2419";

    // Separated data move one unit of log odds a step: by now they have shown it, and the arithmetic still holds.
    private const int Enough = 25;

    /// <summary>
    /// Fits ln odds(met) = β₀ + Σ β_j x_j. Maximum likelihood unless <paramref name="penalised"/> or separated; then Firth's
    /// log likelihood + ½ ln |I|, which always has a maximum.
    /// </summary>
    /// <param name="rows">Covariates, a row a record, all of one length, no intercept; finite. May have no column.</param>
    /// <param name="met">The outcome of each row.</param>
    /// <param name="penalised">Firth's likelihood whether separated or not.</param>
    /// <param name="profile">Profile likelihood intervals beside Wald's: slower, better where coefficients are large or records
    /// few.</param>
    /// <param name="level">Confidence level of the intervals.</param>
    /// <param name="offset">Known log odds added to each row's; null for none.</param>
    /// <remarks>
    /// Assumes independent records, and that covariates act on the log odds in straight lines without interaction. Edges: one
    /// outcome only is complete separation. Source: <see cref="Source"/>; <see cref="FirthSource"/>.
    /// </remarks>
    /// <exception cref="ArgumentException">No row, rows of different lengths, a value that is not finite, or columns of which one is a sum
    /// of others: it names the first.</exception>
    public static LogisticFit Fit(
        IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, bool penalised = false, bool profile = false, double level = 0.95,
        IReadOnlyList<double>? offset = null)
    {
        Check(rows, met, offset);
        var problem = new LogisticProblem(rows, met, offset);
        var start = new double[problem.Columns];
        var (separation, maximum) = penalised ? (Separation.None, null) : Unpenalised(problem, start);
        var firth = penalised || maximum is null;
        maximum ??= Maximum.Find(problem, true, start, iterations: 1_000, tolerance: 1e-9);
        if (!maximum.Converged || Maximum.Covariance(problem, maximum.Beta) is not { } covariance)
            throw new ArgumentException("the fit did not settle: the covariates are almost sums of one another", nameof(rows));
        var values = problem.Back(maximum.Beta);
        var back = problem.Back(covariance);
        var z = Normal.TwoSided(level);
        return new(
            [.. values.Select((value, j) =>
            {
                var error = Math.Sqrt(back[j, j]);
                return new Coefficient(value, error, new(value - (z * error), value + (z * error)),
                    profile && j > 0 ? Profile.Interval(problem, firth, maximum, Math.Sqrt(covariance[j, j]), j, level) : null);
            })],
            [.. values.Select((_, j) => values.Select((_, k) => back[j, k]).ToImmutableArray())],
            problem.LogLikelihood(maximum.Beta), separation, firth);
    }

    /// <summary>Columns that are sums of the intercept and the columns before them, by index from 0.</summary>
    public static ImmutableArray<int> Collinear(IReadOnlyList<double[]> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        if (rows.Count == 0)
            return [];
        var kept = new List<double[]> { Enumerable.Repeat(1 / Math.Sqrt(rows.Count), rows.Count).ToArray() };
        var found = ImmutableArray.CreateBuilder<int>();
        for (var j = 0; j < rows[0].Length; j++)
        {
            double[] rest = [.. rows.Select(row => row[j])];
            var before = Length(rest);
            // Twice is enough against rounding: what is left is the part that the kept columns do not hold.
            for (var pass = 0; pass < 2; pass++)
                foreach (var column in kept)
                {
                    var along = column.Zip(rest, (a, b) => a * b).Sum();
                    for (var i = 0; i < rest.Length; i++)
                        rest[i] -= along * column[i];
                }

            var after = Length(rest);
            if (after <= 1e-9 * before || before == 0)
                found.Add(j);
            else
                kept.Add([.. rest.Select(value => value / after)]);
        }

        return found.ToImmutable();
    }

    private static (Separation, Maximum?) Unpenalised(LogisticProblem problem, double[] start)
    {
        var maximum = Maximum.Find(problem, false, start, iterations: Enough);
        if (maximum.Converged)
            return (Separation.None, maximum);
        var separation = SeparationCheck.Find(problem, maximum.LastStep);
        // Far out the last step may be rounding and little else, while the coefficients themselves already tell every record right: that is
        // proof as good.
        if (SeparationCheck.Find(problem, maximum.Beta) == Separation.Complete)
            separation = Separation.Complete;
        // Neither settled nor proved separated is treated as almost separated: the penalty gives an answer either way.
        return (separation == Separation.None ? Separation.Quasi : separation, null);
    }

    private static double Length(double[] values) => Math.Sqrt(values.Sum(value => value * value));

    private static void Check(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, IReadOnlyList<double>? offset)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(met);
        if (rows.Count == 0 || rows.Count != met.Count || (offset is not null && offset.Count != rows.Count))
            throw new ArgumentException("a model needs at least one row, and an outcome for each; "
                + $"there are {rows.Count} rows and {met.Count} outcomes", nameof(rows));
        for (var i = 0; i < rows.Count; i++)
            if (rows[i].Length != rows[0].Length || !rows[i].All(double.IsFinite))
                throw new ArgumentException($"row {i} must have {rows[0].Length} finite numbers, as row 0 has", nameof(rows));
        if (Collinear(rows) is [var first, ..])
            throw new ArgumentException($"column {first} is constant, or a sum of the columns before it: leave it out", nameof(rows));
    }
}
