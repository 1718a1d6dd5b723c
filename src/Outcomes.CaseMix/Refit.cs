using System.Collections.Immutable;
using Microsoft.ML;
using Microsoft.ML.Calibrators;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;

namespace Outcomes.CaseMix;

/// <summary>The same likelihood maximised by another algorithm in another library: L-BFGS of Microsoft.ML. Its intercept and weights.</summary>
/// <remarks>
/// Its defaults would shrink the coefficients (L1 = L2 = 1) and stop early; with both at 0 and a tolerance of 1e-9 it agrees with <see cref="Logistic"/>
/// to about 1e-5, its numbers being single precision. It says nothing of separation: the caller must know that there is none.
/// </remarks>
internal static class Refit
{
    private sealed class Row
    {
        public bool Label { get; set; }

        [VectorType]
        public float[] Features { get; set; } = [];
    }

    /// <summary>Coefficients, the intercept first. Columns are centred and scaled before, as L-BFGS needs them of one order.</summary>
    public static ImmutableArray<double> Fit(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, int seed)
    {
        var problem = new LogisticProblem(rows, met);
        var context = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(Row));
        schema[nameof(Row.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, problem.Columns - 1);
        var data = context.Data.LoadFromEnumerable(Enumerable.Range(0, problem.Records).Select(i => new Row
        {
            Label = met[i],
            Features = [.. problem.Row(i)[1..].ToArray().Select(value => (float)value)],
        }), schema);
        var trainer = context.BinaryClassification.Trainers.LbfgsLogisticRegression(new LbfgsLogisticRegressionBinaryTrainer.Options
        {
            L1Regularization = 0,
            L2Regularization = 0,
            OptimizationTolerance = 1e-9f,
            HistorySize = 50,
            MaximumNumberOfIterations = 5_000,
            NumberOfThreads = 1,
        });
        var model = (CalibratedModelParametersBase<LinearBinaryModelParameters, PlattCalibrator>)trainer.Fit(data).Model;
        double[] scaled = [model.SubModel.Bias, .. model.SubModel.Weights.Select(weight => (double)weight)];
        return [.. problem.Back(scaled)];
    }
}
