using System.Collections.Immutable;
using Outcomes.Ingestion.Mapping;
using Outcomes.Records;

namespace Outcomes.Ingestion.Reading;

/// <summary>Which buffers of a trace file's rows hold what; -1 where the file has no such column.</summary>
/// <param name="Offset">The offset from induction.</param>
/// <param name="Signal">The signal's name, in a file with a row a sample.</param>
/// <param name="Value">Its value.</param>
/// <param name="Unit">The unit of that value.</param>
/// <param name="Quality">The quality of the row.</param>
/// <param name="Wide">Signals that have a column of their own.</param>
/// <param name="Fields">The dictionary's field of every signal, in the order of <see cref="Reading.Signal"/>: unit and
/// possible range.</param>
public sealed record SamplePlan(
    int Offset, int Signal, int Value, int Unit, int Quality, ImmutableArray<(int Buffer, Signal Signal)> Wide,
    ImmutableArray<Field> Fields)
{
    /// <summary>The dictionary's names of the signals, in the order of <see cref="Reading.Signal"/>.</summary>
    public static ImmutableArray<string> Names { get; } = ["spo2", "pleth_hr", "etco2", "sbp", "map", "rr", "hr"];

    /// <exception cref="Failure">Neither a row a sample nor a column a signal, or both (exit 3).</exception>
    internal static SamplePlan Make(SourceMapping mapping, FieldDictionary dictionary, List<Field> fields)
    {
        int Place(string name) => fields.FindIndex(field => field.Name == name);
        var wide = fields.Select((field, i) => (i, At: Names.IndexOf(field.Name))).Where(pair => pair.At >= 0)
            .Select(pair => (pair.i, (Signal)pair.At)).ToImmutableArray();
        var (signal, value) = (Place(Keys.Signal), Place("value"));
        if (wide.IsEmpty == (signal < 0) || signal < 0 != value < 0)
            throw Failure.Definition(mapping.File, mapping.Table.Line,
                "a trace has either `signal` and `value` (a row a sample) or a column a signal "
                    + $"({string.Join(", ", Names)}), and not both");
        return new SamplePlan(Place(Keys.Offset), signal, value, Place("unit"), Place("quality"), wide,
            [.. Names.Select(name => dictionary.Find(FieldDictionary.Trace, name)
                ?? throw new InvalidOperationException($"The dictionary has no signal {name}."))]);
    }
}
