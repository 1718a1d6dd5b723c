using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;

namespace Outcomes.Cli.Output;

/// <summary>Writes documents that the compiler has made a serialiser for.</summary>
internal static class JsonDocuments
{
    /// <summary>
    /// Writes a whole file, indented, with line feeds. By a writer of its own: a serialiser that is given a stream describes every property
    /// to itself first, which costs a short run a tenth of its time.
    /// </summary>
    public static void Write<T>(string path, T document, JsonTypeInfo<T> type, JavaScriptEncoder? encoder = null)
    {
        using var file = File.Create(path);
        Write(file, document, type, encoder);
    }

    /// <summary>The same into a stream, which stays open.</summary>
    public static void Write<T>(Stream stream, T document, JsonTypeInfo<T> type, JavaScriptEncoder? encoder = null)
    {
        using var writer = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = encoder });
        JsonSerializer.Serialize(writer, document, type);
    }
}
