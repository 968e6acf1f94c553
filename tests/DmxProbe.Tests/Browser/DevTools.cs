using System.Collections.Concurrent;
using System.Net.WebSockets;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DmxProbe.Tests.Browser;

/// <summary>Speaks with a browser's own inspection port: commands with answers, and events as they come.</summary>
internal sealed class DevTools : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private readonly ClientWebSocket _socket = new();
    private readonly ConcurrentDictionary<int, TaskCompletionSource<JsonElement>> _asked = [];
    private readonly SemaphoreSlim _sending = new(1);
    private readonly CancellationTokenSource _stop = new();
    private Task _reading = Task.CompletedTask;
    private int _last;

    /// <summary>Events: session, method, parameters.</summary>
    public event Action<string, string, JsonElement>? Happened;

    public async Task Connect(Uri address)
    {
        await _socket.ConnectAsync(address, _stop.Token);
        _reading = Task.Run(Read);
    }

    public async Task<JsonElement> Ask(string method, object? parameters = null, string? session = null)
    {
        int id = Interlocked.Increment(ref _last);
        TaskCompletionSource<JsonElement> answer = new(TaskCreationOptions.RunContinuationsAsynchronously);
        _asked[id] = answer;
        JsonObject message = new() { ["id"] = id, ["method"] = method, ["params"] = JsonSerializer.SerializeToNode(parameters ?? new { }) };
        if (session is not null)
        {
            message["sessionId"] = session;
        }

        await _sending.WaitAsync(_stop.Token);
        try
        {
            await _socket.SendAsync(JsonSerializer.SerializeToUtf8Bytes(message), WebSocketMessageType.Text, true, _stop.Token);
        }
        finally
        {
            _sending.Release();
        }

        return await answer.Task.WaitAsync(Patience);
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        try
        {
            await _reading;
        }
        catch (Exception ended) when (ended is OperationCanceledException or WebSocketException)
        {
            // It ended because we did.
        }

        _socket.Dispose();
        _sending.Dispose();
        _stop.Dispose();
    }

    private async Task Read()
    {
        byte[] block = new byte[1 << 16];
        using MemoryStream whole = new();
        while (!_stop.IsCancellationRequested)
        {
            WebSocketReceiveResult part = await _socket.ReceiveAsync(block, _stop.Token);
            if (part.MessageType == WebSocketMessageType.Close)
            {
                return;
            }

            whole.Write(block, 0, part.Count);
            if (part.EndOfMessage)
            {
                Take(JsonDocument.Parse(whole.ToArray()).RootElement);
                whole.SetLength(0);
            }
        }
    }

    private void Take(JsonElement message)
    {
        if (message.TryGetProperty("id", out JsonElement id))
        {
            if (_asked.TryRemove(id.GetInt32(), out TaskCompletionSource<JsonElement>? asked))
            {
                if (message.TryGetProperty("error", out JsonElement error))
                {
                    asked.SetException(new InvalidOperationException(error.ToString()));
                }
                else
                {
                    asked.SetResult(message.GetProperty("result"));
                }
            }

            return;
        }

        Happened?.Invoke(
            message.TryGetProperty("sessionId", out JsonElement session) ? session.GetString()! : "",
            message.GetProperty("method").GetString()!,
            message.GetProperty("params"));
    }
}
