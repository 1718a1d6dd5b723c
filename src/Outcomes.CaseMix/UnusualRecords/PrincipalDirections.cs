using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;

namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>The directions in which records vary most, by the randomised PCA of Microsoft.ML.</summary>
/// <remarks>
/// The trainer's own anomaly score is the share of a record's length that its directions leave over. It forgets how far out a record lies
/// and which column is to blame, so only the directions are taken from it.
/// </remarks>
internal static class PrincipalDirections
{
    public const string Source = "Halko N, Martinsson PG, Tropp JA. SIAM Rev 2011;53:217-288 (citation from memory)";

    private sealed class Row
    {
        [VectorType]
        public float[] Features { get; set; } = [];
    }

    /// <summary>Orthogonal directions of length 1, as rows; the data are centred by the trainer.</summary>
    public static double[][] Fit(IReadOnlyList<double[]> rows, int rank, int seed)
    {
        var columns = rows[0].Length;
        var context = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, columns);
        var data = context.Data.LoadFromEnumerable(rows.Select(row => new Row { Features = Array.ConvertAll(row, value => (float)value) }),
            schema);
        var trainer = context.AnomalyDetection.Trainers.RandomizedPca(new RandomizedPcaTrainer.Options
        {
            FeatureColumnName = nameof(Row.Features),
            Rank = rank,
            Oversampling = columns - rank,
            EnsureZeroMean = true,
            Seed = seed,
        });
        VBuffer<float>[] directions = [];
        trainer.Fit(data).Model.GetEigenVectors(ref directions, out _);
        return [.. directions.Select(direction => Array.ConvertAll(direction.DenseValues().ToArray(), value => (double)value))];
    }
}
