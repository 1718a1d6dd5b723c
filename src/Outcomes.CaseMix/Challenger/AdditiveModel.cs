using System.Collections.Immutable;
using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers.FastTree;

namespace Outcomes.CaseMix.Challenger;

/// <summary>
/// A generalised additive model with bins (Microsoft.ML): the log odds are a sum of one step function a column, each grown by many small
/// boosting steps, so that a chance may rise and fall again along one quantity.
/// </summary>
internal static class AdditiveModel
{
    public const string Source =
        "Lou Y, Caruana R, Gehrke J. KDD 2012:150-158; Hastie T, Tibshirani R. Stat Sci 1986;1:297-310 (citations from memory)";

    private sealed class Row
    {
        public bool Label { get; set; }

        [VectorType]
        public float[] Features { get; set; } = [];
    }

    private sealed class Answer
    {
        public float Probability { get; set; }
    }

    /// <summary>Chances of the judged records by a model of the others.</summary>
    /// <param name="rows">What the model is fitted to; at least one column.</param>
    /// <param name="met">Their outcomes; both kinds occur.</param>
    /// <param name="judged">The records whose chances are asked.</param>
    /// <param name="seed">Fixes what the trainer draws; it works on one thread, so that the order of its sums is fixed too.</param>
    public static ImmutableArray<double> Expected(
        IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, IReadOnlyList<double[]> judged, int seed)
    {
        var context = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, rows[0].Length);
        var trainer = context.BinaryClassification.Trainers.Gam(new GamBinaryTrainer.Options
        {
            // Few bins, and far fewer steps than the default: a hospital has hundreds of records, not the millions that the
            // defaults are made for.
            MaximumBinCountPerFeature = 32,
            MinimumExampleCountPerLeaf = 10,
            NumberOfIterations = 500,
            LearningRate = 0.1,
            NumberOfThreads = 1,
            Seed = seed,
        });
        var model = trainer.Fit(View(rows, met));
        return [.. context.Data.CreateEnumerable<Answer>(model.Transform(View(judged, new bool[judged.Count])), reuseRowObject: false)
            .Select(answer => Math.Clamp((double)answer.Probability, 1e-6, 1 - 1e-6))];

        IDataView View(IReadOnlyList<double[]> features, IReadOnlyList<bool> labels) => context.Data.LoadFromEnumerable(
            features.Select((row, i) => new Row { Label = labels[i], Features = Array.ConvertAll(row, value => (float)value) }), schema);
    }
}
