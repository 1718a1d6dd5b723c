using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers.FastTree;
using Outcomes.CaseMix.UnusualRecords;

namespace Outcomes.Studies.UnusualRecords;

/// <summary>Other ways to look for unusual records, on the same columns and with as many false alarms allowed.</summary>
internal static class Rivals
{
    private const int Seed = 1;
    private const int Folds = 3;

    private sealed class Row
    {
        public float Label { get; set; }

        [VectorType]
        public float[] Features { get; set; } = [];
    }

    private sealed class Answer
    {
        public float Score { get; set; }
    }

    /// <summary>
    /// The trainer's own anomaly score of randomised PCA with half the directions, missing cells at the median. It has no limit of its own,
    /// so the one record in two hundred with the highest score is found.
    /// </summary>
    public static IEnumerable<(int Record, int Column, int Other)> PcaScore(RecordColumn[] columns)
    {
        var (used, rows) = Standardised(columns);
        double[][] filled = [.. rows.Select(row => Array.ConvertAll(row, value => double.IsNaN(value) ? 0 : value))];
        var context = new MLContext(Seed);
        var view = View(context, filled, filled.Select(_ => 0.0), used.Length);
        var model =
            context.AnomalyDetection.Trainers.RandomizedPca(nameof(Row.Features), rank: Math.Max(1, used.Length / 2), seed: Seed).Fit(view);
        float[] scores = [.. context.Data.CreateEnumerable<Answer>(model.Transform(view), reuseRowObject: false)
            .Select(answer => answer.Score)];
        return Enumerable.Range(0, rows.Length).OrderByDescending(i => scores[i]).Take(rows.Length / 200).Select(i =>
        {
            int[] far = [.. Enumerable.Range(0, used.Length).OrderByDescending(j => Math.Abs(filled[i][j]))];
            return (i, used[far[0]], used[far[1]]);
        });
    }

    /// <summary>
    /// Each column foretold from the others, missing ones at the median, by a random forest that has not seen the record; residuals over
    /// the same limits as the search's.
    /// </summary>
    public static IEnumerable<(int Record, int Column, int Other)> Forests(RecordColumn[] columns)
    {
        var (used, rows) = Standardised(columns);
        double[][] residuals = [.. rows.Select(row => new double[used.Length])];
        for (var j = 0; j < used.Length; j++)
            Foretell(rows, j, residuals);
        var options = new UnusualRecordOptions();
        TailLimits[] limits = [.. Enumerable.Range(0, used.Length).Select(j =>
        {
            var scale = RobustScale.Of(residuals.Select(row => row[j]), 2)?.Spread ?? 1;
            foreach (var row in residuals)
                row[j] /= scale;
            return TailLimits.Of(residuals.Select(row => row[j]), options.FalseAlarms / (2 * used.Length), rows.Length / 5, options);
        })];
        for (var i = 0; i < rows.Length; i++)
        {
            int[] order = [.. Enumerable.Range(0, used.Length).Where(j => !double.IsNaN(residuals[i][j]))
                .OrderByDescending(j => limits[j].Ratio(residuals[i][j]))];
            if (order.Length > 1 && limits[order[0]].Ratio(residuals[i][order[0]]) > 1)
                yield return (i, used[order[0]], used[order[1]]);
        }
    }

    private static void Foretell(double[][] rows, int j, double[][] residuals)
    {
        double[][] others = [.. rows.Select(row => row.Where((_, k) => k != j).Select(value => double.IsNaN(value) ? 0 : value).ToArray())];
        for (var fold = 0; fold < Folds; fold++)
        {
            var context = new MLContext(Seed);
            int[] seen = [.. Enumerable.Range(0, rows.Length).Where(i => i % Folds != fold && !double.IsNaN(rows[i][j]))];
            int[] judged = [.. Enumerable.Range(0, rows.Length).Where(i => i % Folds == fold)];
            var width = others[0].Length;
            var model = context.Regression.Trainers.FastForest(new FastForestRegressionTrainer.Options
            {
                NumberOfTrees = 100,
                NumberOfLeaves = 16,
                MinimumExampleCountPerLeaf = 5,
                NumberOfThreads = 1,
                Seed = Seed,
                FeatureFraction = 0.7,
            }).Fit(View(context, [.. seen.Select(i => others[i])], seen.Select(i => rows[i][j]), width));
            var answers = context.Data.CreateEnumerable<Answer>(
                model.Transform(View(context, [.. judged.Select(i => others[i])], judged.Select(_ => 0.0), width)), reuseRowObject: false);
            foreach (var (i, answer) in judged.Zip(answers))
                residuals[i][j] = rows[i][j] - answer.Score;
        }
    }

    private static (int[] Used, double[][] Rows) Standardised(RecordColumn[] columns)
    {
        var records = columns[0].Values.Length;
        var used = Enumerable.Range(0, columns.Length).Select(at => (At: at,
            Scale: RobustScale.Of(Enumerable.Range(0, records).Select(i => RobustScale.Compared(columns[at], i)), records / 5)))
            .Where(column => column.Scale is not null).ToArray();
        return ([.. used.Select(column => column.At)],
            [.. Enumerable.Range(0, records).Select(
                i => used.Select(column => column.Scale!.Value.Standardise(RobustScale.Compared(columns[column.At], i))).ToArray())]);
    }

    private static IDataView View(MLContext context, double[][] rows, IEnumerable<double> labels, int columns)
    {
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, columns);
        return context.Data.LoadFromEnumerable(rows.Zip(labels,
            (row, label) => new Row { Label = (float)label, Features = Array.ConvertAll(row, value => (float)value) }), schema);
    }
}
