using System.Collections.Immutable;
using System.Text;

namespace Outcomes.Records;

/// <summary>
/// Reads the dictionary: Table Schema (Data Package standard, version 2) with a few properties of our own, prefixed
/// <c>outcomes:</c>. A key that is not understood is an error, never ignored: a misspelt range would silently not be checked.
/// </summary>
public static class DictionaryFile
{
    /// <summary>Keys of rows and of time: their meaning is fixed, a pipeline cannot redefine them.</summary>
    private static readonly ImmutableArray<string> Fixed = ["record_id", "attempt_no", "event_date"];

    private static readonly string[] LocalKeys = [.. DictionaryKeys.LocalFile];

    private static readonly string[] SchemaKeys = [.. LocalKeys, "primaryKey", "uniqueKeys", "foreignKeys"];

    /// <summary>The fields of one schema, in file order.</summary>
    /// <param name="json">The file's text.</param>
    /// <param name="file">The file's name for messages.</param>
    /// <param name="table">The table it describes.</param>
    public static ImmutableArray<Field> Read(string json, string file, string table) => Read(Encoding.UTF8.GetBytes(json), file, table);

    /// <summary>
    /// A pipeline's own fields: either one schema, for the procedure table, or an object that names the tables,
    /// <c>{"procedure": {...}, "attempt": {...}}</c>. A field with a shipped field's name replaces it.
    /// </summary>
    /// <param name="path">Where the file lies.</param>
    /// <param name="shownName">The file's name as the pipeline writes it, for messages.</param>
    public static ImmutableArray<Field> ReadLocal(string path, string shownName)
    {
        var bytes = DefinitionText.ReadBytes(path, shownName, "the file of local fields cannot be read; check its name and place");
        var root = new JsonText(shownName, bytes).Read();
        if (root.Optional("fields") is not null)
            return Local(root, FieldDictionary.Procedure);
        root.Object("a file of local fields (one schema with `fields`, or a schema a table)", DictionaryKeys.Tables.AsSpan());
        return [.. root.Members.SelectMany(member => Local(member.Value, member.Key))];
    }

    internal static ImmutableArray<Field> Read(ReadOnlyMemory<byte> json, string file, string table)
    {
        var read = Schema(new JsonText(file, json).Read(), table, SchemaKeys);
        RefuseSharedColumns(read, read.Select(each => each.Field));
        return [.. read.Select(each => each.Field)];
    }

    private static ImmutableArray<Field> Local(JsonPart schema, string table)
    {
        var read = Schema(schema, table, LocalKeys);
        foreach (var each in read)
            if (Fixed.Contains(each.Field.Name))
                throw each.Part.Wrong($"`{each.Field.Name}` is a key of the record and cannot be redefined");
        var fields = read.Select(each => each.Field).ToImmutableArray();
        RefuseSharedColumns(read, FieldDictionary.Shipped.With(fields).Of(table));
        return fields;
    }

    private static List<Defined> Schema(JsonPart schema, string table, string[] known)
    {
        schema.Object("a schema", known);
        var missing = schema.Optional("missingValues") is { } words ? FieldReader.MissingWords(words) : FieldReader.UsualMissing;
        var read = new List<Defined>();
        var names = new HashSet<string>();
        foreach (var part in schema.Required("fields").Array("`fields`"))
        {
            var field = FieldReader.Read(part, table, missing);
            if (!names.Add(field.Name))
                throw part.Wrong($"the field `{field.Name}` is defined twice");
            read.Add(new Defined(field, part));
        }

        if (read.Count == 0)
            throw schema.Wrong("`fields` is empty");
        return read;
    }

    /// <summary>A set's column, <c>field_value</c>, may not be another field's name: a condition could not tell them apart.</summary>
    private static void RefuseSharedColumns(List<Defined> read, IEnumerable<Field> all)
    {
        var owner = new Dictionary<string, Field>(StringComparer.OrdinalIgnoreCase);
        foreach (var field in all)
            foreach (var column in Column.Of(field))
                if (!owner.TryAdd(column.Name, field))
                {
                    var other = owner[column.Name];
                    var part = read.Last(each => each.Field == field || each.Field == other).Part;
                    throw part.Wrong($"the fields `{other.Name}` and `{field.Name}` would share the column `{column.Name}`; rename one");
                }
    }

    /// <summary>A field and its place. A class of its own, not a pair: pairs of ours would be compiled anew at every start.</summary>
    private sealed record Defined(Field Field, JsonPart Part);
}
