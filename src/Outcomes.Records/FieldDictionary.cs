using System.Collections.Immutable;

namespace Outcomes.Records;

/// <summary>The fields that a record, its attempts and its traces may have: the shipped dictionary and a pipeline's local fields.</summary>
public sealed class FieldDictionary
{
    public const string Procedure = "procedure";
    public const string Attempt = "attempt";
    public const string Trace = "trace";

    private static readonly Lazy<FieldDictionary> ShippedOnce =
        new(() => new FieldDictionary([.. Embedded(Procedure), .. Embedded(Attempt), .. Embedded(Trace)]));

    private readonly Dictionary<string, Dictionary<string, Field>> _byTable = [];

    public FieldDictionary(IEnumerable<Field> fields)
    {
        Fields = [.. fields];
        foreach (var field in Fields)
        {
            if (!_byTable.TryGetValue(field.Table, out var byName))
                _byTable.Add(field.Table, byName = []);
            byName.Add(field.Name, field);
        }
    }

    /// <summary>The dictionary that ships with the tool, read from it once, at first use.</summary>
    public static FieldDictionary Shipped => ShippedOnce.Value;

    public ImmutableArray<Field> Fields { get; }

    public IEnumerable<Field> Of(string table) => Fields.Where(field => field.Table == table);

    public Field? Find(string table, string name) => _byTable.GetValueOrDefault(table)?.GetValueOrDefault(name);

    /// <summary>The fields of a record that are worked out from its trace, and never read from an export.</summary>
    public IEnumerable<Field> FromTraces => Of(Procedure).Where(IsFromTraces);

    /// <summary>True for a field of a record that is worked out from its trace.</summary>
    public static bool IsFromTraces(Field field) => field.Table == Procedure && field.Name.StartsWith("trace_", StringComparison.Ordinal);

    /// <summary>This dictionary with a pipeline's local fields; a local field replaces a shipped one of the same name.</summary>
    public FieldDictionary With(IEnumerable<Field> local)
    {
        var added = local.ToImmutableArray();
        var names = added.Select(field => (field.Table, field.Name)).ToHashSet();
        return new FieldDictionary(Fields.Where(field => !names.Contains((field.Table, field.Name))).Concat(added));
    }

    private static ImmutableArray<Field> Embedded(string table)
    {
        var name = $"dictionary/{table}.json";
        using var stream = typeof(FieldDictionary).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The tool was built without its {name}.");
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return DictionaryFile.Read(bytes, name, table);
    }
}
