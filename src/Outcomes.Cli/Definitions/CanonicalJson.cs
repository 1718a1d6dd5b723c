using System.Buffers;
using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json;
using Outcomes.Records;

namespace Outcomes.Cli.Definitions;

/// <summary>
/// Writes definitions as JSON in one form only, so that equal definitions give equal bytes and different ones never do. Every public
/// property of a record is written, in ordinal order of the names, unless it is among those to leave out: a property that is added later
/// cannot be forgotten. A type that it does not know is an error, for its text might not be the same everywhere.
/// </summary>
/// <param name="leftOut">The properties that are not written.</param>
public sealed class CanonicalJson(IEnumerable<(Type Of, string Property)> leftOut)
{
    private readonly HashSet<(Type Of, string Property)> _leftOut = [.. leftOut];

    private readonly Dictionary<Type, PropertyInfo[]> _properties = [];

    /// <summary>The parts as members of one JSON object, in the order given.</summary>
    public ReadOnlyMemory<byte> Write(params IEnumerable<(string Name, object? Part)> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        var bytes = new ArrayBufferWriter<byte>(1 << 16);
        using (var json = new Utf8JsonWriter(bytes))
        {
            json.WriteStartObject();
            foreach (var (name, part) in parts)
            {
                json.WritePropertyName(name);
                Value(json, part);
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
            default: Properties(json, value); break;
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

    private void Properties(Utf8JsonWriter json, object value)
    {
        var type = value.GetType();
        if (type.Namespace?.StartsWith("Outcomes.", StringComparison.Ordinal) is not true)
            throw new InvalidOperationException($"{type} has no canonical form; give it one in {nameof(CanonicalJson)}.");
        if (!_properties.TryGetValue(type, out var properties))
            _properties.Add(type, properties = [.. Written(type)]);
        json.WriteStartObject();
        foreach (var property in properties)
        {
            json.WritePropertyName(property.Name);
            Value(json, property.GetValue(value));
        }

        json.WriteEndObject();
    }

    private IEnumerable<PropertyInfo> Written(Type type) => type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
        .Where(property => property.GetIndexParameters().Length == 0 && !_leftOut.Contains((type, property.Name)))
        .OrderBy(property => property.Name, StringComparer.Ordinal);
}
