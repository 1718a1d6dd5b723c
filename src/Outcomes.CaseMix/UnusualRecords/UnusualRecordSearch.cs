using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>Finds records whose values do not fit one another although each is in its range.</summary>
/// <remarks>
/// Columns are standardised by median and median distance. Randomised PCA of the department's own records says how they go together.
/// Each known value is compared with what is expected given the record's other known values, in units of what these leave open; missing
/// values are conditioned away, not filled in. A value beyond its column's limit makes the record unusual. Unusual is not wrong: a rare
/// patient looks the same.
/// </remarks>
public static class UnusualRecordSearch
{
    public const string Source =
        "Residuals given the other columns: Rousseeuw PJ, Van den Bossche W. Technometrics 2018;60:135-145; principal components: "
            + "Hubert M, Rousseeuw PJ, Vanden Branden K. Technometrics 2005;47:64-79 (citations from memory)";

    // A value is judged where at most so many times the usual variance is left open by what else the record knows.
    private const double MostOpen = 1.5;

    // A column of which the others explain less stands by itself.
    private const double LeastExplained = 0.15;

    /// <summary>
    /// The unusual records in the order of the records; none with too few or too many records or fewer than two usable columns.
    /// </summary>
    /// <param name="columns">The quantities, each with a value a record.</param>
    /// <param name="options">The settings.</param>
    /// <remarks>
    /// The same columns, options and processor give the same answer; another processor's last digits could only move a record that lies on
    /// its limit. Source: <see cref="Source"/>, <see cref="PrincipalDirections.Source"/>.
    /// </remarks>
    /// <exception cref="ArgumentException">Columns of different lengths.</exception>
    public static ImmutableArray<UnusualRecord> Find(IReadOnlyList<RecordColumn> columns, UnusualRecordOptions options)
    {
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(options);
        var records = columns.Count == 0 ? 0 : columns[0].Values.Length;
        if (columns.Any(column => column.Values.Length != records))
            throw new ArgumentException("every column needs a value a record", nameof(columns));
        var least = options.LeastKnown;
        var used = Enumerable.Range(0, columns.Count).Select(
            at => (At: at, Scale: RobustScale.Of(Enumerable.Range(0, records).Select(i => RobustScale.Compared(columns[at], i)), least)))
            .Where(column => column.Scale is not null).ToArray();
        if (records < options.LeastRecords || records > options.MostRecords || used.Length < 2)
            return [];
        double[][] rows = [.. Enumerable.Range(0, records)
            .Select(i => used.Select(column => column.Scale!.Value.Standardise(RobustScale.Compared(columns[column.At], i))).ToArray())];
        var model = JointModel.Fit(rows, options.Rank, options.Seed);
        double[][] residuals = Residuals(model, rows);
        TailLimits[] limits = [.. Enumerable.Range(0, used.Length)
            .Select(j => TailLimits.Of(residuals.Select(row => row[j]), options.FalseAlarms / (2 * used.Length), least, options))];
        return [.. residuals.Select((row, record) => Judge(model, rows[record], row, limits, record)).OfType<UnusualRecord>()
            .Select(found => found with { Column = used[found.Column].At, Other = used[found.Other].At })];
    }

    // With P the precision of what the record knows, (Px)_j / √P_jj is the distance of x_j from its expectation in units of its own
    // spread. Where the columns that speak of x_j are missing, more is left open than elsewhere, and its distance has another tail:
    // it is not judged.
    private static double[][] Residuals(JointModel model, double[][] rows)
    {
        var columns = rows[0].Length;
        double[][] residuals = [.. rows.Select(_ => Blank(columns))], own = [.. rows.Select(_ => Blank(columns))];
        for (var i = 0; i < rows.Length; i++)
            Compare(model, rows[i], residuals[i], own[i]);
        for (var j = 0; j < columns; j++)
        {
            double[] known = [.. own.Select(row => row[j]).Where(value => !double.IsNaN(value)).Order()];
            var most = MostOpen * RobustScale.Quantile(known, 0.5);
            for (var i = 0; i < rows.Length; i++)
                if (own[i][j] > most)
                    residuals[i][j] = double.NaN;
        }

        return residuals;
    }

    private static void Compare(JointModel model, double[] row, double[] residuals, double[] own)
    {
        int[] known = Known(row);
        if (known.Length == 0)
            return;
        var precision = model.Precision(known);
        for (var a = 0; a < known.Length; a++)
        {
            var sum = 0.0;
            for (var b = 0; b < known.Length; b++)
                sum += precision[a, b] * row[known[b]];
            own[known[a]] = 1 / precision[a, a];
            residuals[known[a]] = sum / Math.Sqrt(precision[a, a]);
        }
    }

    private static double[] Blank(int columns)
    {
        var row = new double[columns];
        Array.Fill(row, double.NaN);
        return row;
    }

    private static UnusualRecord? Judge(JointModel model, double[] row, double[] residuals, TailLimits[] limits, int record)
    {
        int[] known = Known(row);
        if (known.Length < 2)
            return null;
        double[] ratios = [.. known.Select(j => double.IsNaN(residuals[j]) ? 0 : limits[j].Ratio(residuals[j]))];
        var worst = Array.IndexOf(ratios, ratios.Max());
        if (ratios[worst] <= 1)
            return null;
        var precision = model.Precision(known);
        var alone = 1 - (1 / (precision[worst, worst] * model.Variance(known[worst]))) < LeastExplained;
        var other = Enumerable.Range(0, known.Length).Where(a => a != worst).MaxBy(a => alone
            ? ratios[a]
            : Pull(precision, worst, a) * (double.IsNaN(residuals[known[a]]) ? 0 : Math.Abs(residuals[known[a]])));
        return new(record, ratios[worst], known[worst], known[other], alone);
    }

    // The partial correlation of two columns given the others, without its sign.
    private static double Pull(Matrix<double> precision, int a, int b) =>
        Math.Abs(precision[a, b]) / Math.Sqrt(precision[a, a] * precision[b, b]);

    private static int[] Known(double[] row) => [.. Enumerable.Range(0, row.Length).Where(j => !double.IsNaN(row[j]))];
}
