using System.Buffers;
using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// Writes definitions as JSON in one form only, so that equal definitions give equal bytes and different ones never do. All that a record
/// holds is written, in ordinal order of the names, unless it is among what to leave out: a property that is added later cannot be
/// forgotten. A type that it does not know is an error, for its text might not be the same everywhere.
/// </summary>
/// <param name="leftOut">By type, the names of the properties that are not written.</param>
internal sealed class CanonicalJson(IReadOnlyDictionary<Type, HashSet<string>> leftOut)
{
    private readonly Dictionary<Type, Member[]> _members = [];

    /// <summary>The parts as members of one JSON object, in the order given.</summary>
    public ReadOnlyMemory<byte> Write(params IEnumerable<DefinitionPart> parts)
    {
        var bytes = new ArrayBufferWriter<byte>(1 << 18);
        using (var json = new Utf8JsonWriter(bytes))
        {
            json.WriteStartObject();
            foreach (var part in parts)
            {
                json.WritePropertyName(part.Name);
                Value(json, part.Definition);
            }

            json.WriteEndObject();
        }

        return bytes.WrittenMemory;
    }

    private void Value(Utf8JsonWriter json, object? value)
    {
        switch (value)
        {
            case null: json.WriteNullValue(); break;
            case string text: json.WriteStringValue(text); break;
            case char letter: json.WriteStringValue(letter.ToString()); break;
            case bool yes: json.WriteBooleanValue(yes); break;
            case int number: json.WriteNumberValue(number); break;
            case double number: json.WriteNumberValue(number); break;
            // The division takes trailing zeros away: 1.0 and 1.00 are one number.
            case decimal number: json.WriteNumberValue(number / 1.0000000000000000000000000000m); break;
            case Enum choice: json.WriteStringValue(choice.ToString()); break;
            case DateOnly date: json.WriteStringValue(date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)); break;
            case Month month: json.WriteStringValue(month.ToString()); break;
            case IDictionary pairs: Pairs(json, pairs); break;
            case IEnumerable items: Items(json, items); break;
            case ITuple tuple: Items(json, Enumerable.Range(0, tuple.Length).Select(i => tuple[i])); break;
            default: State(json, value); break;
        }
    }

    private void Items(Utf8JsonWriter json, IEnumerable items)
    {
        json.WriteStartArray();
        foreach (var item in items) Value(json, item);
        json.WriteEndArray();
    }

    // A dictionary's own order differs from run to run.
    private void Pairs(Utf8JsonWriter json, IDictionary pairs)
    {
        json.WriteStartObject();
        foreach (var key in pairs.Keys.Cast<string>().Order(StringComparer.Ordinal))
        {
            json.WritePropertyName(key);
            Value(json, pairs[key]);
        }

        json.WriteEndObject();
    }

    private void State(Utf8JsonWriter json, object value)
    {
        var type = value.GetType();
        if (!_members.TryGetValue(type, out var members))
            _members.Add(type, members = Members(type));
        json.WriteStartObject();
        foreach (var member in members)
        {
            json.WritePropertyName(member.Name);
            Value(json, member.Field.GetValue(value));
        }

        json.WriteEndObject();
    }

    // What a record holds, by the names of its properties; what a property works out from them says nothing new. Fields are read without
    // compiling anything at every start, which properties are not.
    private Member[] Members(Type type)
    {
        if (type.Namespace?.StartsWith("Outcomes.", StringComparison.Ordinal) is not true
            || !(type.IsValueType || type.BaseType == typeof(object)))
            throw new InvalidOperationException($"{type} has no canonical form; give it one in {nameof(CanonicalJson)}.");
        var without = leftOut.GetValueOrDefault(type);
        var members = new List<Member>();
        foreach (var field in type.GetFields(BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Instance))
            if (PropertyOf(field) is var name && without?.Contains(name) is not true)
                members.Add(new Member(name, field));
        members.Sort((one, other) => string.CompareOrdinal(one.Name, other.Name));
        return [.. members];
    }

    // The compiler calls the field of a property `<Name>k__BackingField`.
    private static string PropertyOf(FieldInfo field) =>
        field.Name[0] == '<' ? field.Name[1..field.Name.IndexOf('>', StringComparison.Ordinal)] : field.Name;

    /// <summary>A field under its property's name. A class, not a pair: pairs of ours would be compiled anew at every start.</summary>
    private sealed record Member(string Name, FieldInfo Field);
}
